package report

import (
	"math"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// verdictSummary is a verdict as data: areas in hectares, times in days, shares 0
// to 1, money in the currency it was given in.
type verdictSummary struct {
	Verdict   string    `json:"verdict"`
	Line      string    `json:"decided_by"`
	Heading   string    `json:"heading"`
	Reasons   []string  `json:"reasons"`
	MoreStops int       `json:"more_stops,omitempty"`
	Round     []string  `json:"walk_round,omitempty"`
	Beside    []string  `json:"walk_inside_of,omitempty"`
	Farthest  bool      `json:"walk_farthest,omitempty"`
	Used      int       `json:"stops_used"`
	Lost      int       `json:"stops_not_read"`
	NotRead   []problem `json:"rows_not_read"`
	Alone     string    `json:"verdict_by_rows_read,omitempty"`
	Days      *float64  `json:"look_again_in_days"`
	On        string    `json:"look_again_on,omitempty"`
	GoodUntil string    `json:"good_until,omitempty"`
	Threshold *float64  `json:"threshold"`
	Over      int       `json:"stops_at_or_above_threshold"`
	Instead   string    `json:"if_not_today,omitempty"`
	// LookOut is what may make the verdict wrong, in each language by its code.
	LookOut  map[string][]string `json:"look_out,omitempty"`
	Expected *expectedOf         `json:"expected_cost,omitempty"`
	Costs    *costs              `json:"costs,omitempty"`
	Stops    stopSummary         `json:"stops"`
}

// expectedOf is what each choice is expected to cost, in treatments of the field.
type expectedOf struct {
	Nothing *float64 `json:"nothing"`
	Zone    *float64 `json:"treat_zone"`
	Whole   *float64 `json:"whole_field"`
	PaysAt  *float64 `json:"treatment_pays_at"`
	Close   bool     `json:"close_call"`
	Further int      `json:"further_stops"`
	Saves   *float64 `json:"further_stops_save"` // in treatments of the field, on average over such fields
}

type costs struct {
	Spot        *float64 `json:"spot"`
	Whole       *float64 `json:"whole"`
	Added       *float64 `json:"treat_beyond_plain_cut"`
	SpotAverts  *float64 `json:"spot_averts"`
	WholeAverts *float64 `json:"whole_averts"`
	Pays        bool     `json:"passes_break_even"`
}

type stopSummary struct {
	Mean         *float64    `json:"mean"`
	Low          *float64    `json:"mean_low"`
	High         *float64    `json:"mean_high"`
	Level        *float64    `json:"confidence"`
	Median       *float64    `json:"median"`
	VarianceMean *float64    `json:"variance_to_mean"`
	Found        *proportion `json:"stops_with_any"`
	Infested     *proportion `json:"units_infested"`
	AtOrAbove    *proportion `json:"units_at_or_above_tally"`
	Moran        *moran      `json:"moran"`
	EdgeStops    int         `json:"edge_stops"`
	EdgeMean     *float64    `json:"edge_mean"`
	InteriorMean *float64    `json:"interior_mean"`
	Strongest    *strongest  `json:"strongest_stop"`
}

type proportion struct {
	Units        *float64 `json:"of"`
	Share        *float64 `json:"share"`
	Low          *float64 `json:"low"`
	High         *float64 `json:"high"`
	DesignEffect *float64 `json:"design_effect"`
}

type moran struct {
	I *float64 `json:"i"`
	Z *float64 `json:"z"`
	P *float64 `json:"p_by_permutation"`
}

type strongest struct {
	Stop    string   `json:"stop"`
	Without *float64 `json:"mean_without"`
}

func verdictSummaryOf(v verdict.Verdict, f *assess.Field) *verdictSummary {
	s := &verdictSummary{
		Verdict: v.Kind.String(), Line: v.Line, Heading: VerdictHeading(v, figures.Both), Reasons: VerdictReasons(v, figures.Both), MoreStops: v.More,
		Days: figure(v.Days, lengthDecimals), On: v.On, GoodUntil: v.GoodUntil, Threshold: figure(v.Treat, countDecimals), Over: v.Over,
		Stops: stopSummaryOf(v.Stats, f), Round: v.Round, Beside: v.InsideOf, Farthest: v.Fill, Used: v.Stats.Stops + v.Stats.Extra, NotRead: []problem{},
	}
	s.Lost, _, _ = v.Lost()
	for _, row := range inDoubt(v.Unread) {
		s.NotRead = append(s.NotRead, problemOf(row.Problem))
	}
	if v.Without != verdict.None {
		s.Alone = v.Without.String()
	}
	if v.Instead != verdict.None {
		s.Instead = v.Instead.String()
	}
	if m := v.Sums; m.Known() {
		s.Expected = &expectedOf{figure(m.Nothing/m.Area, scoreDecimals), figure(m.Zone/m.Area, scoreDecimals), figure(m.Whole/m.Area, scoreDecimals), figure(v.PaysAt, countDecimals), v.Close,
			verdict.Further, figure(m.Saving(v.Stats.Places(), verdict.Further)/m.Area, scoreDecimals)}
	}
	if c := v.Costs; c != nil {
		s.Costs = &costs{figure(c.Spot, 2), figure(c.Whole, 2), figure(c.Added, 2), figure(c.SpotAverts, 2), figure(c.WholeAverts, 2), c.Pays()}
	}
	return s
}

func stopSummaryOf(d fieldstats.Summary, f *assess.Field) stopSummary {
	s := stopSummary{
		Mean: figure(d.Mean, countDecimals), Low: figure(d.Interval.Low, countDecimals), High: figure(d.Interval.High, countDecimals),
		Level: figure(d.Level, shareDecimals), Median: figure(d.Median, countDecimals), VarianceMean: figure(d.VarianceMean, scoreDecimals),
		Found: proportionOf(&d.Found), Infested: proportionOf(d.Infested), AtOrAbove: proportionOf(d.AtOrAbove),
		EdgeStops: d.Edge.EdgeStops, EdgeMean: figure(d.Edge.EdgeMean, countDecimals), InteriorMean: figure(d.Edge.InteriorMean, countDecimals),
	}
	if m := d.Moran; m != nil {
		s.Moran = &moran{figure(m.I, scoreDecimals), figure(m.Z, scoreDecimals), figure(m.P, scoreDecimals)}
	}
	if in := d.Strongest; in != nil && in.Stop < len(f.Stops) && !math.IsNaN(in.Without) {
		s.Strongest = &strongest{f.Stops[in.Stop].Name, figure(in.Without, countDecimals)}
	}
	return s
}

func proportionOf(p *fieldstats.Proportion) *proportion {
	if p == nil {
		return nil
	}
	return &proportion{figure(p.Units, countDecimals), figure(p.Share, shareDecimals), figure(p.Interval.Low, shareDecimals),
		figure(p.Interval.High, shareDecimals), figure(p.DesignEffect, scoreDecimals)}
}

type powerLaw struct {
	Fields   int      `json:"fields"`
	A        *float64 `json:"a"`
	B        *float64 `json:"b"`
	BErr     *float64 `json:"b_standard_error"`
	RSquared *float64 `json:"r_squared"`
}

// taylorOf is the power law across fields; nil where they do not tell it.
func taylorOf(all []verdict.Verdict) *powerLaw {
	p, err := verdict.AcrossFields(all)
	if err != nil {
		return nil
	}
	return &powerLaw{p.N, figure(p.A, scoreDecimals), figure(p.B, scoreDecimals), figure(p.BErr, scoreDecimals), figure(p.RSquared, scoreDecimals)}
}
