package report

import (
	"io"
	"math"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

type compareSummary struct {
	Pest        string         `json:"pest"`
	Unit        string         `json:"unit"`
	TreatAt     *float64       `json:"treat_at"` // null where fields have their own
	TreatSource string         `json:"treat_source"`
	WatchAt     *float64       `json:"watch_at"`
	WatchSource string         `json:"watch_source"`
	Fields      []compareField `json:"fields"`
	Notes       []string       `json:"notes"`
	Cautions    []string       `json:"cautions"`
}

type compareField struct {
	Field        string             `json:"field"`
	AreaHa       *float64           `json:"area_ha"`
	TreatAt      *float64           `json:"treat_at,omitempty"` // where fields have their own, of the last visit
	TreatSource  string             `json:"treat_source,omitempty"`
	WatchAt      *float64           `json:"watch_at,omitempty"`
	WatchSource  string             `json:"watch_source,omitempty"`
	Visits       []visitSummary     `json:"visits"`
	Steps        []stepSummary      `json:"steps"`
	Overall      *stepSummary       `json:"overall"`
	Hotspots     []hotspotSummary   `json:"hotspots"`
	Correlations []corrSummary      `json:"correlations"`
	Treatments   []treatmentSummary `json:"treatments"`
	PestDays     *float64           `json:"pest_days"`
	PestDaysGrid *float64           `json:"pest_days_of_surface"`
	Next         nextSummary        `json:"next"`
	Forecast     *forecastSummary   `json:"forecast"`
	Notes        []string           `json:"notes"`
}

type visitSummary struct {
	Date    string              `json:"date"`
	Stops   int                 `json:"stops"`
	Used    int                 `json:"stops_used"`
	Lost    int                 `json:"stops_not_read"`
	Mean    *float64            `json:"mean"`
	Max     *float64            `json:"max"`
	ZonesHa map[string]*float64 `json:"zones_ha"`
	Trust   string              `json:"trust"`
}

type stepSummary struct {
	From           string                         `json:"from"`
	To             string                         `json:"to"`
	Days           float64                        `json:"days"`
	Verdict        string                         `json:"verdict"`
	GrowthFrom     string                         `json:"growth_from"` // the ground that the figures to growth_is_a_bound are of
	StandsOut      bool                           `json:"stands_out"`
	P              *float64                       `json:"p"`
	Exact          bool                           `json:"exact"`
	Matched        bool                           `json:"matched"`
	StopsBefore    int                            `json:"stops_before"`
	StopsAfter     int                            `json:"stops_after"`
	MeanBefore     *float64                       `json:"mean_before"`
	MeanAfter      *float64                       `json:"mean_after"`
	GrowthOf       string                         `json:"growth_of"` // the mean, or of shares their odds
	GrowthPerDay   *float64                       `json:"growth_per_day"`
	GrowthLow      *float64                       `json:"growth_low"`
	GrowthHigh     *float64                       `json:"growth_high"`
	DoublingDays   *float64                       `json:"doubling_days"`
	Guarded        bool                           `json:"growth_is_a_bound"`
	ClassToClassHa map[string]map[string]*float64 `json:"class_to_class_ha"`
	TreatGroundHa  map[string]*float64            `json:"treat_ground_ha"`
	TreatedHa      map[string]*float64            `json:"treat_ground_treated_ha"` // part of treat_ground_ha
	TreatedOn      []string                       `json:"treated_on"`              // between the visits
	Parts          []partSummary                  `json:"parts"`
	Unseen         *float64                       `json:"share_without_figure"`
	NotAlike       []string                       `json:"not_alike"`
}

// partSummary is what the stops of some of the ground say, where a treatment parts it.
type partSummary struct {
	Ground      string   `json:"ground"`
	Treated     []string `json:"treated"` // days
	Between     bool     `json:"treated_between_the_visits"`
	Matched     bool     `json:"matched"`
	StopsBefore int      `json:"stops_before"`
	StopsAfter  int      `json:"stops_after"`
	MeanBefore  *float64 `json:"mean_before"`
	MeanAfter   *float64 `json:"mean_after"`
	Says        string   `json:"says"`
}

type hotspotSummary struct {
	Hotspot       int      `json:"hotspot"`
	From          string   `json:"from"`
	To            string   `json:"to"`
	Event         string   `json:"event"`
	With          []int    `json:"with"`
	BeforeHa      *float64 `json:"before_ha"`
	AfterHa       *float64 `json:"after_ha"`
	UnseenHa      *float64 `json:"not_looked_at_again_ha"`
	MovedM        *float64 `json:"moved_m"`
	Bearing       *float64 `json:"bearing"`
	AreaGrowth    *float64 `json:"area_growth_per_day"`
	DensityGrowth *float64 `json:"density_growth_per_day"`
}

type corrSummary struct {
	From     string   `json:"from"`
	To       string   `json:"to"`
	Matched  int      `json:"matched_stops"`
	Spearman *float64 `json:"spearman"`
	P        *float64 `json:"spearman_p"`
	Surface  *float64 `json:"surface_pearson"`
}

type treatmentSummary struct {
	Date       string   `json:"date"`
	Note       string   `json:"note"`
	Formula    string   `json:"formula"`
	Percent    *float64 `json:"efficacy_percent"`
	Low        *float64 `json:"efficacy_low"`
	High       *float64 `json:"efficacy_high"`
	Why        string   `json:"cannot_be_told"`
	Inside     int      `json:"stops_inside"`
	Outside    int      `json:"stops_outside"`
	TreatedHa  *float64 `json:"treated_ha"`
	MissedHa   *float64 `json:"treat_zone_missed_ha"`
	NeedlessHa *float64 `json:"treated_outside_treat_zone_ha"`
	Reentry    string   `json:"reentry"`
}

type nextSummary struct {
	GoBackBy     string         `json:"go_back_by"`
	GoodUntil    string         `json:"map_good_until"`
	CountAgain   bool           `json:"count_again"` // the map was good no longer at the newest visit to other fields
	Why          string         `json:"why"`
	GrowthFrom   string         `json:"growth_from"`     // the ground that days and shares go by
	Unknown      string         `json:"no_growth_known"` // why; "" where it is known
	DaysToTreat  *float64       `json:"days_to_treat"`   // of the mean of that ground; null is never, or not known
	Soonest      *float64       `json:"days_to_treat_soonest"`
	Latest       *float64       `json:"days_to_treat_latest"`
	Treated      *float64       `json:"days_to_treat_of_treated_ground"`
	TreatedSoon  *float64       `json:"days_to_treat_of_treated_ground_soonest"`
	GrowthTells  bool           `json:"growth_stands_out"`
	GroundWithin []aheadSummary `json:"ground_at_treat_level"`
}

type aheadSummary struct {
	Days    int      `json:"days"`
	Share   *float64 `json:"share"`
	Soonest *float64 `json:"share_soonest"`
}

type forecastSummary struct {
	Date        string   `json:"date"`
	Says        string   `json:"says"`
	TreatHa     *float64 `json:"treat_ha"`
	TreatHaLow  *float64 `json:"treat_ha_low"`
	TreatHaHigh *float64 `json:"treat_ha_high"`
	Treated     *float64 `json:"treat_ha_in_treated_ground"`
}

// WriteCompareSummary writes all that the comparison says, as JSON.
func WriteCompareSummary(w io.Writer, r *compare.Result) error {
	out := compareSummary{
		Pest: r.Pest, Unit: r.Statistic.String(),
		Fields: []compareField{}, Notes: CompareNotes(r), Cautions: Cautions(),
	}
	for _, f := range r.Fields {
		out.Fields = append(out.Fields, compareFieldOf(r, f))
	}
	out.tellLevels(r)
	return WriteJSON(w, out)
}

func compareFieldOf(r *compare.Result, f *compare.Field) compareField {
	out := compareField{
		Field: f.Name, AreaHa: figure(figures.Hectares(f.Area), areaDecimals), Notes: NoteTexts(f),
		Steps: []stepSummary{}, Hotspots: []hotspotSummary{}, Correlations: []corrSummary{}, Treatments: []treatmentSummary{},
		PestDays: figure(f.PestDays.Stops, countDecimals), PestDaysGrid: figure(f.PestDays.Surface, countDecimals), Next: nextOf(f),
	}
	for _, v := range f.Visits {
		one := visitSummary{Date: v.Date, Stops: len(v.Assess.Stops), Used: len(v.Assess.Stops), Mean: figure(v.Assess.Mean, countDecimals), Max: figure(v.Assess.Max, countDecimals), ZonesHa: map[string]*float64{}, Trust: TrustText(v.Assess.Trust)}
		one.Lost, _, _ = assess.Lost(v.Assess.Unread)
		for _, z := range v.Assess.Map.Zones {
			one.ZonesHa[z.Class.String()] = figure(figures.Hectares(z.Area), areaDecimals)
		}
		out.Visits = append(out.Visits, one)
	}
	for _, s := range f.Steps {
		out.Steps = append(out.Steps, stepOf(r, f, s))
	}
	if f.Overall != nil {
		s := stepOf(r, f, f.Overall)
		out.Overall = &s
	}
	for _, s := range f.Tracks.Steps {
		out.Hotspots = append(out.Hotspots, hotspotOf(f, s))
	}
	for _, c := range f.Correlations {
		out.Correlations = append(out.Correlations, corrSummary{f.Visits[c.From].Date, f.Visits[c.To].Date, c.Stops.N, figure(c.Stops.Rho, 6), small(c.Stops.P), figure(c.Surface.Rho, 6)})
	}
	for _, t := range f.Treatments {
		out.Treatments = append(out.Treatments, treatmentOf(t))
	}
	if p := f.Forecast; p != nil {
		out.Forecast = &forecastSummary{p.Date, ForecastText(*p), figure(figures.Hectares(p.Treat), areaDecimals), figure(figures.Hectares(p.TreatSlowest), areaDecimals), figure(figures.Hectares(p.TreatQuick), areaDecimals), figure(figures.Hectares(p.TreatTreated), areaDecimals)}
	}
	return out
}

// small is a chance: four figures, however small.
func small(v float64) *float64 {
	if math.IsNaN(v) || v <= 0 {
		return figure(v, 0)
	}
	const kept = 4
	r := figures.Rounded(v, kept-1-int(math.Floor(math.Log10(v))))
	return &r
}

func stepOf(r *compare.Result, f *compare.Field, s *compare.Step) stepSummary {
	c := s.Change
	out := stepSummary{
		From: f.Visits[s.From].Date, To: f.Visits[s.To].Date, Days: s.Days, Verdict: StepVerdict(r, f, s), GrowthFrom: s.Basis.String(),
		StandsOut: c.StandsOut, P: small(c.P), Exact: c.Exact, Matched: c.Matched, StopsBefore: c.NA, StopsAfter: c.NB,
		MeanBefore: figure(c.MeanA, countDecimals), MeanAfter: figure(c.MeanB, countDecimals),
		GrowthOf: growthOf(c), GrowthPerDay: figure(c.Rate, rateDecimals), GrowthLow: figure(c.Interval.Low, rateDecimals), GrowthHigh: figure(c.Interval.High, rateDecimals),
		DoublingDays: figure(paired.DoublingDays(c.Rate), countDecimals), Guarded: c.Guarded,
		ClassToClassHa: map[string]map[string]*float64{}, TreatGroundHa: map[string]*float64{}, TreatedHa: map[string]*float64{},
		TreatedOn: append([]string{}, s.TreatedOn...), Parts: []partSummary{},
		Unseen: figure(s.Unseen, shareDecimals), NotAlike: UnlikeTexts(f, s),
	}
	for _, from := range zones.Classes() {
		row := map[string]*float64{}
		for _, to := range zones.Classes() {
			row[to.String()] = figure(figures.Hectares(s.Table[from][to]), areaDecimals)
		}
		out.ClassToClassHa[from.String()] = row
	}
	for _, k := range change.Kinds() {
		out.TreatGroundHa[k.String()] = figure(figures.Hectares(s.Areas[k]), areaDecimals)
		out.TreatedHa[k.String()] = figure(figures.Hectares(s.Treated[k]), areaDecimals)
	}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, partSummary{
			Ground: p.Lot.String(), Treated: append([]string{}, p.Dates...), Between: p.Lot == compare.TreatedBetween, Matched: p.Matched,
			StopsBefore: p.NA, StopsAfter: p.NB, MeanBefore: figure(p.MeanA, countDecimals), MeanAfter: figure(p.MeanB, countDecimals), Says: PartText(r, p),
		})
	}
	return out
}

func growthOf(c paired.Change) string {
	if c.Odds {
		return "odds"
	}
	return "mean"
}

func hotspotOf(f *compare.Field, s change.Step) hotspotSummary {
	return hotspotSummary{
		Hotspot: s.ID, From: f.Visits[s.From].Date, To: f.Visits[s.To].Date, Event: string(s.Event), With: append([]int{}, s.With...),
		BeforeHa: figure(figures.Hectares(s.Before), areaDecimals), AfterHa: figure(figures.Hectares(s.After), areaDecimals), UnseenHa: figure(figures.Hectares(s.Unseen), areaDecimals),
		MovedM: figure(s.Metres, 1), Bearing: figure(s.Bearing, 1),
		AreaGrowth: figure(s.AreaRate, rateDecimals), DensityGrowth: figure(s.DensityRate, rateDecimals),
	}
}

func treatmentOf(t compare.TreatmentResult) treatmentSummary {
	out := treatmentSummary{Date: t.Date, Note: t.Note, Why: EfficacyUnknown(t), Inside: t.Inside, Outside: t.Outside, Reentry: Reentry(t.Treatment)}
	if e := t.Efficacy; e != nil {
		out.Formula, out.Percent = e.Formula, figure(e.Percent, 1)
		out.Low, out.High = figure(e.Interval.Low, 1), figure(e.Interval.High, 1)
	}
	if c := t.Coverage; c != nil {
		out.TreatedHa, out.MissedHa, out.NeedlessHa = figure(figures.Hectares(c.Treated), areaDecimals), figure(figures.Hectares(c.Missed), areaDecimals), figure(figures.Hectares(c.Needless), areaDecimals)
	}
	return out
}

func nextOf(f *compare.Field) nextSummary {
	n := f.Next
	out := nextSummary{
		GoBackBy: n.GoBackBy, GoodUntil: n.GoodUntil, CountAgain: f.CountAgain(), Why: GoBackWhy(n), GrowthFrom: n.Basis.String(), Unknown: noGrowthKnown(f), GrowthTells: n.Trusted, GroundWithin: []aheadSummary{},
		DaysToTreat: figure(n.FieldDays, 1), Soonest: figure(n.FieldSoonest, 1), Latest: figure(n.FieldLatest, 1),
		Treated: figure(n.TreatedDays, 1), TreatedSoon: figure(n.TreatedSoonest, 1),
	}
	for _, a := range n.Within {
		out.GroundWithin = append(out.GroundWithin, aheadSummary{a.Days, figure(a.Share, shareDecimals), figure(a.ShareSoonest, shareDecimals)})
	}
	return out
}
