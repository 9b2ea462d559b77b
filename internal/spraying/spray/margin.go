package spray

import "math"

// Margin is what spray ground is grown by beyond the zone's line, part by part,
// so that the reader can see where it comes from.
type Margin struct {
	StopError    float64 `json:"stop_error_m"`     // position of the stops, m, 95 %
	SprayerError float64 `json:"sprayer_error_m"`  // position of the sprayer, m, 95 %
	Growth       float64 `json:"growth_m_per_day"` // m a day by which the patch spreads
	Days         float64 `json:"days"`             // from the count to the spraying
	Extra        float64 `json:"extra_m"`          // m, asked for outright
}

// Position is the part for positions: independent errors add by their squares
// (root sum of squares, JCGM 100:2008 §5.1).
func (m Margin) Position() float64 { return math.Hypot(m.StopError, m.SprayerError) }

// Spread is the part for what the patch grows until the spraying.
func (m Margin) Spread() float64 { return m.Growth * m.Days }

// Total is the whole margin.
func (m Margin) Total() float64 { return m.Position() + m.Spread() + m.Extra }
