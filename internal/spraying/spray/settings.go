package spray

import (
	"fmt"
	"math"
)

// Settings say what drives over the ground. Speeds, lags and times that are zero
// were not given, and then nothing is worked out from them.
type Settings struct {
	Swath    float64 `json:"swath_m"`  // m that one pass covers
	Sections int     `json:"sections"` // parts of the boom that switch on their own; 0 means 1
	// Heading is in degrees clockwise from north; nil means along the rows, or where these
	// are not known along the longest edge of the field, or as FewestPasses asks.
	Heading *float64 `json:"heading_deg"`
	// Rows is the direction of the rows, degrees clockwise from north, [0, 180); nil where
	// it is not known.
	Rows         *float64 `json:"rows_deg"`
	FewestPasses bool     `json:"fewest_passes"` // the heading is that with the fewest passes
	Speed        float64  `json:"speed_m_s"`     // m/s
	Lag          float64  `json:"lag_s"`         // s from the switch to the spray, valve and look-ahead together
	MinLength    float64  `json:"min_length_m"`  // m, the shortest run; at least Speed × Lag and half a metre
	Bridge       float64  `json:"bridge_m"`      // m, gaps up to here stay on where no keep-off lies in them
	TurnTime     float64  `json:"turn_s"`        // s
	// Overrun is how far, in metres, a section that is over spray ground may reach
	// past the field's outer edge; nil means as far as the section goes. It never
	// reaches into keep-offs, holes of the field, gaps between its parts or other fields.
	Overrun *float64 `json:"overrun_m"`
}

// Validate tells what cannot be driven.
func (s Settings) Validate() error {
	switch {
	case !(s.Swath >= 0.5 && s.Swath <= 100):
		return fmt.Errorf("a swath of %.4g m: want 0.5 to 100 m", s.Swath)
	case s.Sections < 0 || s.Sections > 200:
		return fmt.Errorf("%d sections: want 1 to 200", s.Sections)
	case s.section() < 0.1:
		return fmt.Errorf("sections of %.3g m: want 0.1 m or more", s.section())
	case s.Heading != nil && !(*s.Heading >= 0 && *s.Heading <= 360):
		return fmt.Errorf("a heading of %v degrees: want 0 to 360", *s.Heading)
	case s.Rows != nil && !(math.Abs(*s.Rows) <= 360):
		return fmt.Errorf("rows at %v degrees: want 0 to 360", *s.Rows)
	case s.Heading != nil && s.FewestPasses:
		return fmt.Errorf("a heading and the fewest passes are two headings: want one")
	case !(s.Speed >= 0 && s.Speed <= 100):
		return fmt.Errorf("a speed of %.4g m/s: want 0 to 100", s.Speed)
	case !(s.Lag >= 0 && s.Lag <= 30):
		return fmt.Errorf("a lag of %v s: want 0 to 30", s.Lag)
	case !(s.MinLength >= 0 && s.MinLength <= 1000) || !(s.Bridge >= 0 && s.Bridge <= 1000):
		return fmt.Errorf("a shortest run of %v m and a bridge of %v m: want 0 to 1000 m", s.MinLength, s.Bridge)
	case !(s.TurnTime >= 0 && s.TurnTime <= 3600):
		return fmt.Errorf("a turn of %v s: want 0 to 3600", s.TurnTime)
	case s.Overrun != nil && !(*s.Overrun >= 0 && *s.Overrun <= 1000):
		return fmt.Errorf("an overrun of %v m: want 0 to 1000 m", *s.Overrun)
	}
	return nil
}

func (s Settings) sections() int { return max(1, s.Sections) }

// section is the width of one section.
func (s Settings) section() float64 { return s.Swath / float64(s.sections()) }

// Lead is how far before its place a switch is thrown, m.
func (s Settings) Lead() float64 { return s.Speed * s.Lag }

// leastRun is the shortest run whatever was asked, m: below it no boom switches,
// and a line of it is lost when written with seven decimals.
const leastRun = 0.5

// Shortest is the shortest run that the boom can do, m.
func (s Settings) Shortest() float64 { return max(s.MinLength, s.Lead(), leastRun) }
