package report

import (
	"bytes"
	"encoding/json"
	"io"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// WriteSummary writes all that the screen says and more, for machines: figures
// are null where there is no number, areas are in hectares and acres, lengths in
// metres. The verdicts go to the fields they are of.
func WriteSummary(w io.Writer, r *assess.Result, verdicts ...verdict.Verdict) error {
	s := summaryOf(r)
	s.Taylor = taylorOf(verdicts)
	var b bytes.Buffer
	if err := WriteJSON(&b, s); err != nil {
		return err
	}
	const none = "\n \"fields\": []" // within a text the quotes would be escaped
	before, after, _ := bytes.Cut(b.Bytes(), []byte(none))
	if _, err := w.Write(before); err != nil {
		return err
	}
	if err := writeFields(w, r, verdicts); err != nil {
		return err
	}
	_, err := w.Write(after)
	return err
}

// writeFields writes the member of the fields, one after the other: all of them would take
// twenty kilobytes each.
func writeFields(w io.Writer, r *assess.Result, verdicts []verdict.Verdict) error {
	of, several := byField(verdicts), r.Several()
	begin, end := "\n \"fields\": [", "]"
	for _, f := range r.Fields {
		if !f.Scouted() && !f.NoneRead() {
			continue
		}
		var b bytes.Buffer
		b.WriteString(begin + "\n  ")
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		e.SetIndent("  ", " ")
		if err := e.Encode(judgedSummaryOf(r.Of(f), f, of[f.Name], several)); err != nil {
			return err
		}
		if _, err := w.Write(bytes.TrimRight(b.Bytes(), "\n")); err != nil {
			return err
		}
		begin, end = ",", "\n ]"
	}
	if end == "]" {
		end = begin + end
	}
	_, err := io.WriteString(w, end)
	return err
}

// judgedSummaryOf is that of a field in which somebody counted, with its verdict; nil is
// none. Where several fields have levels of their own it tells them.
func judgedSummaryOf(r *assess.Result, f *assess.Field, v *verdict.Verdict, several bool) (s fieldSummary) {
	if f.Scouted() {
		s = fieldSummaryOf(f)
		if several {
			s.Statistic, s.Levels = f.Statistic.String(), levelsOf(f.Levels)
		}
	} else {
		s = noneReadSummaryOf(f)
	}
	if v != nil {
		s.Verdict = verdictSummaryOf(*v, f)
		s.Verdict.LookOut = doubtsOf(r, f, *v)
	}
	return s
}

// WriteJSON writes indented JSON with text as it is.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(v)
}

type summary struct {
	Pest      string         `json:"pest"`
	Dates     []string       `json:"dates"`
	Statistic string         `json:"statistic"`
	Levels    *levels        `json:"levels,omitempty"` // of all fields; else those of each
	Rows      rows           `json:"rows"`
	Fields    []fieldSummary `json:"fields"`
	Taylor    *powerLaw      `json:"taylor_across_fields,omitempty"`
	Unscouted []string       `json:"fields_not_scouted"`
	Away      []awayStop     `json:"stops_set_aside"`
	Problems  []problem      `json:"problems"`
	Corrected []string       `json:"corrected,omitempty"` // cells that were read otherwise than they stand
	Notes     []string       `json:"notes"`
	Cautions  []string       `json:"cautions"`
}

type levels struct {
	TreatAt     float64 `json:"treat_at"`
	TreatSource string  `json:"treat_source"`
	WatchAt     float64 `json:"watch_at"`
	WatchSource string  `json:"watch_source"`
	Caution     string  `json:"caution"`
}

type rows struct {
	Read      int `json:"read"`
	Used      int `json:"used"`
	SetAside  int `json:"set_aside"`
	OtherPest int `json:"other_pest"`
}

type fieldSummary struct {
	Name        string          `json:"field"`
	Statistic   string          `json:"statistic,omitempty"` // where fields have their own
	Levels      *levels         `json:"levels,omitempty"`    // likewise
	Dates       []string        `json:"dates"`
	AreaHa      *float64        `json:"area_ha"`
	AreaAc      *float64        `json:"area_ac"`
	Stops       int             `json:"stops"`
	EmptyStops  int             `json:"empty_stops"`
	Mean        *float64        `json:"mean"`
	Max         *float64        `json:"max"`
	Zones       []zoneSummary   `json:"zones"`
	UnscoutedHa *float64        `json:"unscouted_ha"`
	UnscoutedAc *float64        `json:"unscouted_ac"`
	Verdict     *verdictSummary `json:"verdict,omitempty"`
	Trust       trust           `json:"trust"`
	LeaveOneOut leaveOneOut     `json:"leave_one_out"`
	Chance      *chanceSummary  `json:"chance"`
	Settings    settings        `json:"settings"`
}

type zoneSummary struct {
	Zone   string   `json:"zone"`
	AreaHa *float64 `json:"area_ha"`
	AreaAc *float64 `json:"area_ac"`
	Share  *float64 `json:"share"`
	Mean   *float64 `json:"mean"`
	Max    *float64 `json:"max"`
	Stops  int      `json:"stops"`
}

type trust struct {
	Believed bool     `json:"better_than_mean"`
	Verdict  string   `json:"verdict"`
	Reasons  []string `json:"reasons"`
}

// leaveOneOut is the score of the whole and the table of the stops at or above
// the treat level.
type leaveOneOut struct {
	N           int      `json:"n"`
	MeanError   *float64 `json:"mean_error"`
	MAE         *float64 `json:"mean_absolute_error"`
	RMSE        *float64 `json:"rmse"`
	Correlation *float64 `json:"correlation"`
	Skill       *float64 `json:"skill"`
	Over        int      `json:"stops_at_or_above_treat_level"`
	Treat       int      `json:"would_be_treat"`
	Watch       int      `json:"would_be_watch"`
	Clear       int      `json:"would_be_clear"`
}

// FieldSettings are the settings of one field as they were used.
type FieldSettings struct {
	Field string `json:"field"`
	settings
}

// SettingsOf are the settings of each field that has zones.
func SettingsOf(r *assess.Result) []FieldSettings {
	all := []FieldSettings{}
	for _, f := range r.Fields {
		if f.Scouted() {
			all = append(all, FieldSettings{f.Name, settingsOf(f.Settings)})
		}
	}
	return all
}

type settings struct {
	Power     float64  `json:"power"`
	Neighbors int      `json:"neighbors"` // −1 is all
	Plain     bool     `json:"plain"`
	RadiusM   *float64 `json:"radius_m"`
	Tuned     bool     `json:"tuned"`
	CellM     float64  `json:"cell_m"`
	ReachM    *float64 `json:"reach_m"`
	MarginM   float64  `json:"margin_m"` // with growth_m
	GrowthM   float64  `json:"growth_m"`
	GrownDays float64  `json:"grown_days"`
	MinAreaM2 float64  `json:"min_area_m2"`
	SimplifyM *float64 `json:"simplify_m"`
}

type awayStop struct {
	Stop      string  `json:"stop"`
	Longitude float64 `json:"longitude"`
	Latitude  float64 `json:"latitude"`
	File      string  `json:"file"`
	Line      int     `json:"line"`
	What      string  `json:"what"`
}

type problem struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   string `json:"column"`
	Value    string `json:"value"`
	Severity string `json:"severity"`
	What     string `json:"what"`
	Fix      string `json:"mend"`
}

// summaryOf is all but the fields.
func summaryOf(r *assess.Result) summary {
	t := r.Tally()
	s := summary{
		Pest: r.Survey.Pest, Dates: list(r.Survey.Dates), Statistic: StatisticOf(r),
		Levels:    levelsOf(r.Levels),
		Rows:      rows{Read: t.Read, Used: t.Used, SetAside: t.SetAside, OtherPest: t.OtherPest},
		Corrected: correctedOf(r),
		Notes:     list(append(append([]string(nil), r.Survey.Notes...), r.Notes...)),
		Cautions:  Cautions(), Fields: []fieldSummary{}, Unscouted: []string{}, Away: []awayStop{}, Problems: []problem{},
	}
	switch {
	case len(r.Fields) == 0: // of nothing
		s.Levels, s.Statistic = nil, ""
	case r.Several():
		s.Levels = nil
	}
	for _, f := range r.Fields {
		if !f.Scouted() && !f.NoneRead() {
			s.Unscouted = append(s.Unscouted, f.Name)
		}
	}
	s.Away = append(s.Away, setAside(r.Away, whyAway)...)
	for _, p := range r.Survey.Problems {
		s.Problems = append(s.Problems, problemOf(p))
	}
	return s
}

func levelsOf(l assess.Levels) *levels {
	return &levels{
		TreatAt: l.TreatAt, TreatSource: l.TreatSource,
		WatchAt: figures.Rounded(l.WatchAt, scoreDecimals), WatchSource: l.WatchSource, Caution: levelsCaution,
	}
}

func problemOf(p survey.Problem) problem {
	return problem{p.File, p.Line, p.Column, p.Value, p.Severity.String(), p.What, p.Fix}
}

// list is never null in JSON.
func list(items []string) []string { return append([]string{}, items...) }

func setAside(stops []survey.Stop, what string) (out []awayStop) {
	for _, s := range stops {
		out = append(out, awayStop{
			Stop: s.Name, Longitude: figures.Rounded(s.Longitude, 7), Latitude: figures.Rounded(s.Latitude, 7),
			File: s.Records[0].File, Line: s.Records[0].Line, What: what,
		})
	}
	return out
}

func fieldSummaryOf(f *assess.Field) fieldSummary {
	s := fieldSummary{
		Name: f.Name, Dates: list(f.Days()), AreaHa: figure(figures.Hectares(f.Area), areaDecimals), AreaAc: figure(figures.Acres(f.Area), areaDecimals),
		Stops: len(f.Stops), EmptyStops: emptyStops(f),
		Mean: figure(f.Mean, countDecimals), Max: figure(f.Max, countDecimals),
		UnscoutedHa: figure(figures.Hectares(f.Map.Unscouted), areaDecimals), UnscoutedAc: figure(figures.Acres(f.Map.Unscouted), areaDecimals),
		Trust:       trust{Believed: f.Trust.Believed(), Verdict: TrustText(f.Trust), Reasons: list(TrustReasons(f.Trust))},
		LeaveOneOut: leaveOneOutOf(f), Chance: chanceSummaryOf(f), Settings: settingsOf(f.Settings),
	}
	for _, z := range f.Map.Zones {
		s.Zones = append(s.Zones, zoneSummaryOf(f, z))
	}
	return s
}

// noneReadSummaryOf is a field of which no stop was read: it has no figures but its area.
func noneReadSummaryOf(f *assess.Field) fieldSummary {
	ha, ac := figure(figures.Hectares(f.Area), areaDecimals), figure(figures.Acres(f.Area), areaDecimals)
	return fieldSummary{
		Name: f.Name, Dates: []string{}, AreaHa: ha, AreaAc: ac, UnscoutedHa: ha, UnscoutedAc: ac, Zones: []zoneSummary{},
		Trust: trust{Verdict: NoneRead, Reasons: []string{}},
	}
}

func zoneSummaryOf(f *assess.Field, z zones.Zone) zoneSummary {
	return zoneSummary{
		Zone: z.Class.String(), AreaHa: figure(figures.Hectares(z.Area), areaDecimals), AreaAc: figure(figures.Acres(z.Area), areaDecimals),
		Share: figure(f.Map.Share(z.Class), shareDecimals), Mean: figure(z.Mean, countDecimals), Max: figure(z.Max, countDecimals),
		Stops: f.StopsIn(z.Class),
	}
}

// emptyStops is how many stops of a field, extra ones too, have nothing.
func emptyStops(f *assess.Field) (n int) {
	for _, s := range f.Stops {
		if s.Value == 0 {
			n++
		}
	}
	return n
}

func leaveOneOutOf(f *assess.Field) leaveOneOut {
	s, h := f.Trust.Score, f.Hindsight
	return leaveOneOut{
		N: s.N, MeanError: figure(s.MeanError, scoreDecimals), MAE: figure(s.MAE, scoreDecimals),
		RMSE: figure(s.RMSE, scoreDecimals), Correlation: figure(s.Correlation, scoreDecimals), Skill: figure(s.Skill, scoreDecimals),
		Over: h.Over, Treat: h.Treat, Watch: h.Watch, Clear: h.Clear,
	}
}

func settingsOf(u assess.Used) settings {
	s := settings{
		Power: u.IDW.Power, Neighbors: u.IDW.Neighbors, Plain: u.IDW.Plain, Tuned: u.Tuned,
		CellM: u.Cell, ReachM: figure(u.Reach, lengthDecimals), MarginM: u.Margin, GrowthM: u.Growth.Margin, GrownDays: u.Growth.Days, MinAreaM2: u.MinArea,
		SimplifyM: figure(u.Simplify, scoreDecimals),
	}
	if u.IDW.Radius > 0 {
		s.RadiusM = &u.IDW.Radius
	}
	return s
}
