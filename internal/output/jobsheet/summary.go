package jobsheet

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// summary is handoff.json: areas in m², lengths in m, rates as typed.
type summary struct {
	Days     handoff.Days   `json:"days"`
	Margin   marginJSON     `json:"margin"`
	Settings spray.Settings `json:"settings"`
	Mix      mixSummary     `json:"typed_in"`
	Totals   handoff.Totals `json:"totals"`
	Jobs     []jobSummary   `json:"jobs"`
	Idle     []string       `json:"fields_without_job"`
	Notes    []string       `json:"notes"`
	Cautions []string       `json:"cautions"`
}

type marginJSON struct {
	spray.Margin
	Total float64 `json:"total_m"`
}

func marginOf(m spray.Margin) marginJSON { return marginJSON{m, centi(m.Total())} }

type mixSummary struct {
	Rate     string    `json:"rate,omitempty"`
	Tank     string    `json:"tank,omitempty"`
	Volume   float64   `json:"volume_l,omitempty"`
	Loads    []float64 `json:"loads_l,omitempty"`
	Products []product `json:"products"`
}

type product struct {
	Name  string  `json:"name"`
	Rate  string  `json:"rate"`
	Total float64 `json:"total"`
	Unit  string  `json:"unit"`
}

type jobSummary struct {
	Field  string         `json:"field"`
	Date   string         `json:"date"`
	Pest   string         `json:"pest"`
	Trust  string         `json:"trust"`
	Days   handoff.Days   `json:"days"`
	Margin marginJSON     `json:"margin"`
	Grown  *handoff.Grown `json:"on_map"` // null where the zones do not tell
	handoff.Advice
	Doubts      []string          `json:"look_out,omitempty"` // what may make the verdict wrong
	Before      []handoff.Sprayed `json:"sprayed_before,omitempty"`
	Against     bool              `json:"against_verdict"`
	Whole       bool              `json:"whole_field"`
	Treat       float64           `json:"treat_m2"`
	Ground      float64           `json:"ground_m2"`
	Treatable   float64           `json:"treatable_m2"`
	Sprayed     float64           `json:"sprayed_m2"`
	ByHand      float64           `json:"by_hand_m2"` // sprayed by whole sections, switched at the places of the passes
	Ratio       float64           `json:"sprayed_per_treatable"`
	Missed      float64           `json:"missed_m2"`
	Overlap     float64           `json:"overlap_m2"`
	Beyond      float64           `json:"beyond_ground_m2"`
	OutOfField  float64           `json:"out_of_field_m2"`
	Left        float64           `json:"left_m2"`
	Grid        *grid             `json:"grid"`        // where given, the areas above are of its cells
	LeftPlaces  []left            `json:"left_places"` // that no section can do
	KeepOffs    []keepOff         `json:"keep_offs"`
	Bars        []bar             `json:"not_field"`
	Heading     float64           `json:"heading_deg"`
	HeadingBest bool              `json:"heading_of_fewest_passes"`
	Rows        *float64          `json:"rows_deg"`              // null where not known
	Points      int               `json:"points"`                // of the outlines, as they are written
	PointsThere int               `json:"points_were"`           // before --max-points
	RatePoints  *rated            `json:"rate_points,omitempty"` // of the file of the rates, with --max-points
	Passes      int               `json:"passes"`
	Turns       int               `json:"turns"`
	On          float64           `json:"on_m"`
	Off         float64           `json:"off_m"`
	Astride     float64           `json:"steer_round_m"`
	Seconds     *float64          `json:"seconds"`
}

type left struct {
	Area   float64 `json:"area_m2"`
	Lon    float64 `json:"longitude"`
	Lat    float64 `json:"latitude"`
	Reason string  `json:"reason"`
}

type keepOff struct {
	Name    string   `json:"name"`
	SetBack float64  `json:"set_back_m"`
	CutOut  float64  `json:"cut_out_m2"`
	Nearest *float64 `json:"spray_ground_stays_off_m"`
}

// rated is how many points the file of the rates has, and had, and its ground as a share of
// what whole sections spray.
type rated struct {
	Points int     `json:"points"`
	Were   int     `json:"were"`
	Share  float64 `json:"share_of_sections"`
}

// bar is closed ground that nobody gave as keep-off: holes of the field, gaps between its
// parts, other fields.
type bar struct {
	Kind    string   `json:"kind"`
	Name    string   `json:"name,omitempty"`
	Count   int      `json:"count"`
	Area    float64  `json:"area_m2"`
	Nearest *float64 `json:"spray_ground_stays_off_m"`
}

type grid struct {
	Cell    float64 `json:"cell_m"`
	Columns int     `json:"columns"`
	Rows    int     `json:"rows"`
	On      int     `json:"cells_on"`
	Share   float64 `json:"least_share_of_spray_ground"`
}

// WriteJSON writes all figures for machines.
func (s Sheet) WriteJSON(w io.Writer) error {
	t := s.Result.Totals()
	out := summary{
		Days: s.Result.Days, Margin: marginOf(s.Result.Settings.Margin), Settings: s.Result.Settings.Spray, Mix: s.mixSummary(t.Sprayed), Totals: roundedTotals(t),
		Idle: s.idleNames(), Notes: slices.Concat(s.Result.KeepOffNotes, s.Result.Notes), Cautions: Cautions(),
	}
	for _, j := range s.Result.Jobs {
		out.Jobs = append(out.Jobs, summaryOf(j))
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(out)
}

func (s Sheet) mixSummary(area float64) mixSummary {
	m := mixSummary{Products: []product{}}
	if s.Mix.Rate != nil {
		volume := spray.Carrier(area, s.Mix.Rate.Base)
		m.Rate, m.Volume = s.Mix.Rate.String(), centi(volume)
		if s.Mix.Tank != nil {
			m.Tank = s.Mix.Tank.String()
			for _, load := range spray.Loads(volume, s.Mix.Tank.Base) {
				m.Loads = append(m.Loads, centi(load))
			}
		}
	}
	for _, p := range s.Mix.Products {
		m.Products = append(m.Products, product{p.Name, fmt.Sprintf("%s %s/%s", figures.Amount(p.Amount), p.Unit, p.Per), math.Round(p.Total(area)*1e4) / 1e4, p.Unit})
	}
	return m
}

// roundedTotals keeps hundredths.
func roundedTotals(t handoff.Totals) handoff.Totals {
	for _, v := range []*float64{&t.Treat, &t.Ground, &t.Sprayed, &t.Left, &t.OutOfField, &t.On, &t.Off, &t.Seconds} {
		*v = centi(*v)
	}
	return t
}

func summaryOf(j *handoff.Job) jobSummary {
	p, f := j.Plan, j.Figures()
	out := jobSummary{
		Field: j.Field, Date: j.Date, Pest: j.Pest, Trust: j.Trust, Days: j.Days, Margin: marginOf(j.Margin), Grown: j.Grown, Advice: j.Advice, Doubts: j.Doubts[vocabulary.English.String()], Against: j.Advice.Against() && !j.Fallback, Whole: j.Whole,
		Treat: centi(j.Ground.Treat), Ground: centi(f.Ground), Treatable: centi(f.Treatable), Sprayed: centi(f.Sprayed), ByHand: centi(j.ByHand()),
		Ratio: math.Round(f.Ratio()*1e4) / 1e4, Missed: centi(f.Missed), Overlap: centi(f.Overlap), Beyond: centi(f.Beyond),
		OutOfField: centi(f.OutOfField), Left: centi(f.Left), Grid: gridOf(j.Grid), LeftPlaces: []left{}, KeepOffs: []keepOff{},
		Heading: math.Round(p.Heading*1e3) / 1e3, HeadingBest: p.By == spray.FewestPasses, Rows: p.Settings.Rows, Points: j.Points.After, PointsThere: j.Points.Before, Passes: len(p.Passes), Turns: p.Turns, On: centi(p.On), Off: centi(p.Off), Astride: centi(p.Astride), Bars: []bar{},
	}
	if f := j.Fewer; f != nil {
		out.RatePoints = &rated{f.Points.After, f.Points.Before, math.Round(shareOfSections(j)*1e4) / 1e4}
	}
	if p.Settings.Speed > 0 {
		seconds := centi(p.Seconds)
		out.Seconds = &seconds
	}
	for _, r := range j.Places() {
		at := j.Frame.Inverse(r.Point)
		out.LeftPlaces = append(out.LeftPlaces, left{centi(r.Area), degrees(at[0]), degrees(at[1]), handoff.Reason(r)})
	}
	for _, s := range j.Sprayed {
		if s.Again != nil {
			again := centi(*s.Again)
			s.Again = &again
		}
		out.Before = append(out.Before, s)
	}
	for _, k := range j.Ground.KeptOff {
		out.KeepOffs = append(out.KeepOffs, keepOffOf(k))
	}
	for _, b := range j.Ground.Bars {
		out.Bars = append(out.Bars, bar{string(b.Kind), b.Name, b.Count, centi(b.Area), finite(b.Nearest)})
	}
	return out
}

func keepOffOf(k spray.KeptOff) keepOff {
	out := keepOff{Name: k.Name, SetBack: k.SetBack, CutOut: centi(k.Area)}
	out.Nearest = finite(k.Nearest)
	return out
}

// finite is a length in hundredths, nil where there is none.
func finite(v float64) *float64 {
	if math.IsInf(v, 1) {
		return nil
	}
	v = centi(v)
	return &v
}

func gridOf(g *handoff.Grid) *grid {
	if g == nil {
		return nil
	}
	return &grid{g.Cell, g.Codes.Columns, g.Codes.Rows, g.On, spray.LeastShare}
}

func centi(v float64) float64   { return math.Round(v*100)/100 + 0 }
func degrees(v float64) float64 { return math.Round(v*1e7)/1e7 + 0 }
