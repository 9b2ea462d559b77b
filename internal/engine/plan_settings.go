package engine

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// PlanSettings are those of plan, called as its flags are.
type PlanSettings struct {
	Only         string // name of the field, where the boundary holds several
	NameProperty string
	Inner        Inner

	Stops     int
	Precision float64   // in place of stops: standard error as part of the mean
	Taylor    []float64 // a and b of the means of stops
	Expect    float64   // the mean
	Add       int       // further stops, for a map
	Edge      int       // further stops along the edge

	Inside  float64     // metres from the edge to the nearest stop
	Heading *float64    // of rows, degrees from north clockwise; nil for none
	Start   *[2]float64 // longitude, latitude; nil for anywhere
	Order   string      // walk, the shortest way, or spread: any first stops are spread
	OneWay  bool
	Speed   float64 // metres per second
	Minutes float64 // at a stop
	Leaves  int     // at a stop
	Pest    string
	Rule    string // that table and sheet are made for; "" for none
	Stage   string // of growth, for the rule
	Seed    uint64

	Language vocabulary.Language // of screen and sheet
}

// PlanDefaults are the settings where nothing is asked for.
func PlanDefaults() PlanSettings {
	return PlanSettings{Inside: 25 * geo.MetresPerFoot, Speed: 1.1, Minutes: 5, Leaves: 10, Seed: 1, Order: "walk"}
}

// settings are the settings as the work takes them, and why so many stops.
func (q PlanRequest) settings() (set plan.Settings, why string, err error) {
	set = plan.Settings{Inside: q.Inside, Edge: q.Edge, Heading: q.Heading, OneWay: q.OneWay, Speed: q.Speed, Minutes: q.Minutes, Seed: q.Seed}
	if set.Stops, why, err = q.stops(); err != nil {
		return set, "", err
	}
	switch {
	case q.Order != "walk" && q.Order != "spread":
		return set, "", fmt.Errorf("--order %s: want walk or spread", q.Order)
	case q.Order == "spread" && q.After != nil:
		return set, "", errors.New("--order spread is for a whole plan: --after puts its stops where they help most")
	}
	set.Spread = q.Order == "spread"
	if q.Start != nil {
		set.StartAt(*q.Start)
	}
	if q.Leaves < 1 {
		return set, "", fmt.Errorf("--leaves %d: want 1 or more", q.Leaves)
	}
	return set, why, set.Validate()
}

// stops is how many, and why where it was worked out.
func (q PlanRequest) stops() (stops int, why string, err error) {
	switch {
	case q.After != nil && (q.Add < 1 || q.Stops != 0 || q.Precision != 0):
		return 0, "", errors.New("--after wants --add and no other number of stops")
	case q.After != nil:
		return q.Add, "", nil
	case q.Add != 0:
		return 0, "", errors.New("--add is for --after: give --stops")
	case q.Precision != 0:
		return q.byPrecision()
	case q.Stops == 0:
		return 0, "", errors.New("how many stops? give --stops, or --precision with --taylor and --expect")
	}
	return q.Stops, "", nil
}

func (o PlanSettings) byPrecision() (stops int, why string, err error) {
	switch {
	case o.Stops != 0:
		return 0, "", errors.New("--stops and --precision both say how many: give one")
	case len(o.Taylor) != 2:
		return 0, "", errors.New("--precision wants Taylor's two numbers too: --taylor a,b of the means of stops")
	case !(o.Expect > 0):
		return 0, "", errors.New("--precision wants the mean expected too: --expect")
	}
	green := sampling.Green{Taylor: sampling.Taylor{A: o.Taylor[0], B: o.Taylor[1]}, D: o.Precision}
	if err := green.Validate(); err != nil {
		return 0, "", err
	}
	n := green.Units(o.Expect, o.Precision)
	if n > 1e6 {
		return 0, "", fmt.Errorf("a standard error of %v of the mean would take %.0f stops; ask for less", o.Precision, n)
	}
	stops = max(int(math.Ceil(n)), 4)
	return stops, fmt.Sprintf("%d stops for a standard error of %v of a mean of %v, where variance = %v·mean^%v (n = %.1f, never under 4)",
		stops, o.Precision, o.Expect, o.Taylor[0], o.Taylor[1], n), nil
}
