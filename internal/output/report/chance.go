package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// chance says what the model of chance makes of the map: the ground expected
// over the treat level, how much of it the treat zone is expected to hold, how
// the chances would have done where stops are left out.
func (s Screen) chance(b *strings.Builder, f *assess.Field) {
	c := f.Chance
	if c == nil {
		return
	}
	fmt.Fprintf(b, "  %s\n", Expected(s.Result, f, s.Units))
	if text := cutText(s.Result, f, figures.Both); text != "" {
		fmt.Fprintf(b, "  treat ground is cut at %s; %s\n", text, s.added(f)+s.addedCost(f.Name))
	}
	if h := c.Hindsight; h.Over > 0 {
		fmt.Fprintf(b, "  by chance (treat from %.2g, watch from %.2g) the map would have put %d in treat, %d in watch, %d in clear\n",
			c.TreatAt, c.WatchAt, h.Treat, h.Watch, h.Clear)
	}
	fmt.Fprintf(b, "  left-out stops by chance (stops, predicted over, found): %s\n", calibrationText(c.Calibration))
}

// nextToNone in m² is ground of which an area and a share are no figures: less than
// two decimals of a hectare are sure to show.
const nextToNone = 100

// Expected is the ground that the model of chance, which the field has, expects over the
// treat level, and how much of it the treat zone is expected to hold where there is one:
// of patches that no stop met it holds no more than its share of the field.
func Expected(r *assess.Result, f *assess.Field, u figures.Units) string {
	c, at := f.Chance, figures.Level(r.Levels.TreatAt)
	text, rest := fmt.Sprintf("expected at or above %s: %s", at, u.Area(c.Expected)), "it"
	switch seen := c.Expected - c.Unseen; {
	case c.Expected < nextToNone:
		return fmt.Sprintf("expected at or above %s: next to none", at)
	case seen < nextToNone:
		return fmt.Sprintf("expected at or above %s: next to none by the stops, %s unseen between them", at, u.Area(c.Unseen))
	case c.Unseen >= nextToNone:
		text, rest = fmt.Sprintf("%s, %s of it unseen between stops", text, u.Area(c.Unseen)), "the rest"
	}
	if math.IsNaN(c.Caught) || f.Map.Zone(zones.Treat).Area == 0 {
		return text
	}
	return fmt.Sprintf("%s; the treat zone is expected to hold %s of %s", text, figures.Whole(c.Caught), rest)
}

// overLevel is the part of fields in which the range of ground over the treat level is to
// hold it.
const overLevel = 0.9

// OverRange is between which areas, m², the ground at or above the treat level lies in
// nine of ten fields, by how many of the planned stops are and by what the model of chance
// expects. It is unknown where stops speak for a part of the field only.
func OverRange(f *assess.Field) fieldstats.Interval {
	if f.Trust.Layout.Partial() {
		return fieldstats.AreaOver(0, 0, f.Area, math.NaN(), overLevel)
	}
	over, planned, expected := 0, 0, math.NaN()
	for _, s := range f.Stops {
		if s.Extra {
			continue
		}
		if planned++; s.Value >= f.Levels.TreatAt {
			over++
		}
	}
	if f.Chance != nil {
		expected = f.Chance.Expected
	}
	return fieldstats.AreaOver(over, planned, f.Area, expected, overLevel)
}

// BadGround says how much ground is likely over the treat level, such as "1 to 4 acres";
// "" where that is not known, or next to none.
func BadGround(f *assess.Field, u figures.Units) string {
	i := OverRange(f)
	if !i.Known() || i.High < nextToNone {
		return ""
	}
	return u.Say("The bad ground is likely %s in all.", u.Between(i.Low, i.High))
}

// cutText is where treat ground is cut if that is not at the treat level; "" if
// it is.
func cutText(r *assess.Result, f *assess.Field, u figures.Units) string {
	switch l := f.Settings.Levels; {
	case f.Chance != nil && f.Chance.ByLoss:
		return u.Text("an expected loss of one treatment")
	case f.Chance == nil || l.TreatAt == r.Levels.TreatAt:
		return ""
	case f.Chance.BySurface:
		return u.Say("a chance of %.2g of being at or above %s", l.TreatAt, figures.Level(r.Levels.TreatAt))
	default:
		return u.Say("%s on the surface", figures.Level(l.TreatAt))
	}
}

// chanceLines are for the legend of a field whose treat ground is not cut at the
// treat level, and what every map is expected to catch.
func chanceLines(r *assess.Result, f *assess.Field, u figures.Units) (lines []string) {
	if text := cutText(r, f, u); text != "" {
		lines = append(lines, u.Say("%s: red ground is cut at %s.", f.Name, text))
	}
	if text := outsideRed(f, u); text != "" {
		lines = append(lines, f.Name+": "+text)
	}
	return lines
}

// added is the ground more or less than a cut at the treat level takes.
func (s Screen) added(f *assess.Field) string {
	if a := f.Chance.Added; a < 0 {
		return s.Units.Area(-a) + " less than a cut at the treat level"
	}
	return s.Units.Area(f.Chance.Added) + " more than a cut at the treat level"
}

// addedCost is the money for that ground; "" where no cost was given.
func (s Screen) addedCost(field string) string {
	for _, v := range s.Verdicts {
		if v.Field != field || v.Costs == nil || math.IsNaN(v.Costs.Added) {
			continue
		}
		if v.Costs.Added < 0 {
			return fmt.Sprintf(", which saves %s", figures.Short(-v.Costs.Added))
		}
		return fmt.Sprintf(", which costs %s", figures.Short(v.Costs.Added))
	}
	return ""
}

func calibrationText(all []assess.Calibration) string {
	var parts []string
	for _, c := range all {
		if c.Stops > 0 {
			parts = append(parts, fmt.Sprintf("%g–%g %%: %d, %s, %d", 100*c.From, 100*c.To, c.Stops, figures.Short(c.Predicted), c.Found))
		}
	}
	return strings.Join(parts, "; ")
}

// chanceSummary is [assess.Chance] for machines; areas in hectares and acres.
type chanceSummary struct {
	Surface     string        `json:"surface"` // idw, chance or loss
	CutTreat    *float64      `json:"cut_treat"`
	CutWatch    *float64      `json:"cut_watch"`
	ExpectedHa  *float64      `json:"expected_over_ha"`
	ExpectedAc  *float64      `json:"expected_over_ac"`
	LowHa       *float64      `json:"expected_over_low_ha"` // in nine of ten fields it lies within low and high
	LowAc       *float64      `json:"expected_over_low_ac"`
	HighHa      *float64      `json:"expected_over_high_ha"`
	HighAc      *float64      `json:"expected_over_high_ac"`
	UnseenHa    *float64      `json:"expected_over_unseen_ha"` // of it, in patches that no stop met
	UnseenAc    *float64      `json:"expected_over_unseen_ac"`
	Caught      *float64      `json:"expected_share_in_treat"` // of the rest
	AddedHa     *float64      `json:"treat_beyond_plain_cut_ha"`
	AddedAc     *float64      `json:"treat_beyond_plain_cut_ac"`
	TreatChance *float64      `json:"treat_chance"`
	WatchChance *float64      `json:"watch_chance"`
	Over        int           `json:"stops_at_or_above_treat_level"`
	Treat       int           `json:"would_be_treat"`
	Watch       int           `json:"would_be_watch"`
	Clear       int           `json:"would_be_clear"`
	Calibration []calibration `json:"calibration"`
}

type calibration struct {
	From      float64  `json:"chance_from"`
	To        float64  `json:"chance_to"`
	Stops     int      `json:"stops"`
	Predicted *float64 `json:"predicted"`
	Found     int      `json:"found"`
}

// chanceSummaryOf is nil, null in JSON, where there is no model of chance.
func chanceSummaryOf(f *assess.Field) *chanceSummary {
	c := f.Chance
	if c == nil {
		return nil
	}
	span := OverRange(f)
	s := &chanceSummary{
		Surface:  "idw",
		CutTreat: figure(f.Settings.Levels.TreatAt, scoreDecimals), CutWatch: figure(f.Settings.Levels.WatchAt, scoreDecimals),
		ExpectedHa: figure(figures.Hectares(c.Expected), countDecimals), ExpectedAc: figure(figures.Acres(c.Expected), countDecimals),
		LowHa: figure(figures.Hectares(span.Low), countDecimals), LowAc: figure(figures.Acres(span.Low), countDecimals),
		HighHa: figure(figures.Hectares(span.High), countDecimals), HighAc: figure(figures.Acres(span.High), countDecimals),
		UnseenHa: figure(figures.Hectares(c.Unseen), countDecimals), UnseenAc: figure(figures.Acres(c.Unseen), countDecimals),
		Caught:  figure(c.Caught, countDecimals),
		AddedHa: figure(figures.Hectares(c.Added), countDecimals), AddedAc: figure(figures.Acres(c.Added), countDecimals),
		TreatChance: figure(c.TreatAt, scoreDecimals), WatchChance: figure(c.WatchAt, scoreDecimals),
		Over: c.Hindsight.Over, Treat: c.Hindsight.Treat, Watch: c.Hindsight.Watch, Clear: c.Hindsight.Clear,
		Calibration: []calibration{},
	}
	if c.BySurface {
		s.Surface = "chance"
	}
	if c.ByLoss {
		s.Surface = "loss"
	}
	for _, b := range c.Calibration {
		s.Calibration = append(s.Calibration, calibration{b.From, b.To, b.Stops, figure(b.Predicted, countDecimals), b.Found})
	}
	return s
}
