package page

import (
	_ "embed" // the page
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

//go:embed weeks.html
var weeksMarkup string

// Weeks is the page of several visits compared: their maps side by side, with one
// scale for stops and one for surfaces, what went from zone to zone, and how it grew.
type Weeks struct {
	Result  *compare.Result
	Now     []verdict.Verdict // of the last visit to each field
	Units   figures.Units
	Notes   []string // of readers
	Program string
	Command string
	Inputs  []Input
}

// Write writes the page. The same page has the same bytes.
func (p Weeks) Write(w io.Writer) error {
	if len(p.Result.Fields) == 0 {
		return fmt.Errorf("no field was scouted twice, so there is nothing to compare")
	}
	r := p.Result
	subjects, b := p.onOneScale()
	v := weeksView{common: commonOf(report.CompareTitle(r, p.Units), r.Statistic, r.Levels, len(r.Fields), b.look(), p.Units)}
	if r.Several() {
		v.Levels = append(levelsOfFields(report.CompareLevelLines(r)), levelsCaution(p.Units))
	}
	v.Notes, v.Program, v.Command, v.Inputs = slices.Concat(p.Notes, report.CompareNotes(r)), p.Program, p.Command, p.Inputs
	for i, f := range r.Fields {
		fv, err := p.field(&v, i, b, subjects[i])
		if err != nil {
			return fmt.Errorf("field %q: %w", f.Name, err)
		}
		v.Fields = append(v.Fields, fv)
	}
	return render(w, weeksMarkup, v, p.Units)
}

// weeksView is what the template of weeks shows.
type weeksView struct {
	common
	Fields []weeksField
}

type weeksField struct {
	Number int
	Name   string
	Area   string
	All    string // the area, as in the tables
	Unit   string // of areas in the tables
	Visits []visitView
	Last   int // index of the last visit
	Layers []layerView
	Legend []zoneRow   // empty where no visit has zones
	Scale  []scaleView // of the surfaces, one for all visits
	Sizes  []sizeView
	Black  string
	// Treated is said of the dashed lines; "" where there are none.
	Treated string
	Answers []report.Answer
	// NotRead is what ? on the maps means; "" where there is none.
	NotRead string
	Growth  chartView
	Steps   []stepView
	Words   []report.Group
}

type visitView struct {
	Number      int // of the map in the page
	Date        string
	Day         string // Date as people say it
	ShortDay    string // and in a table
	Stops       int
	Used        string // of the stops, where not all were read or are in the mean
	Mean, Max   string
	Areas       []string // treat, watch, clear
	Trust       string
	Nothing     string // to be mapped, in place of the trust; "" where there is
	Blank       bool   // neither zones nor a surface are drawn
	Treated     string // days of the treatments drawn; "" for none
	ViewBox     string
	Map         template.HTML
	Bar         barView
	Description string
}

type stepView struct {
	Between  string
	Verdict  string
	Parts    []string // treated ground and other apart
	Warnings []string
	Rows     []stepRow
	All      []string
	Ground   []string // of treat ground, by kind
}

type stepRow struct {
	From  string
	Areas []string
	All   string
}

// onOneScale are the visits of each field, all with one scale for their stops and one
// size for their maps.
func (p Weeks) onOneScale() (fields [][]scene.Subject, b box) {
	var all []scene.Subject
	for _, f := range p.Result.Fields {
		all = append(all, p.subjects(f)...)
	}
	b = boxOf(weekWidth, all)
	all = b.shared(all)
	for _, f := range p.Result.Fields {
		n := len(f.Visits)
		fields, all = append(fields, all[:n:n]), all[n:]
	}
	return fields, b
}

// subjects are the visits of a field with what was treated before them.
func (p Weeks) subjects(f *compare.Field) (all []scene.Subject) {
	for i, v := range f.Visits {
		r := &assess.Result{Levels: v.Levels, Statistic: p.Result.Statistic, Survey: &survey.Survey{Pest: p.Result.Pest, Dates: []string{v.Date}}}
		s := scene.Subject{Result: r, Field: v.Assess, Ground: &assess.MetricField{Frame: f.Frame, XY: f.XY, Surface: v.Grid.Surface}}
		for _, t := range treatedOn(f, i) {
			s.Treated = append(s.Treated, t.XY)
		}
		all = append(all, s)
	}
	return all
}

// treatedOn are the treatments to be drawn on the map of a visit: those between it and
// the visit before, and on the last those that nobody has been back to see.
func treatedOn(f *compare.Field, visit int) (out []compare.TreatmentResult) {
	for _, t := range f.Treatments {
		if t.After == visit || t.After < 0 && visit == len(f.Visits)-1 {
			out = append(out, t)
		}
	}
	return out
}

func (p Weeks) field(page *weeksView, number int, b box, subjects []scene.Subject) (weeksField, error) {
	f := p.Result.Fields[number]
	v := weeksField{Number: number, Name: f.Name, Area: p.Units.Area(f.Area), All: p.Units.Bare(f.Area), Unit: p.Units.AreaUnit(), Last: len(f.Visits) - 1, Black: figures.Short(f.Levels().TreatAt),
		Sizes: b.sizes(subjects[0]), Answers: report.Answers(p.Result, f, p.Units, p.Now...)}
	var moments []scene.Moment
	for i, s := range subjects {
		visit := f.Visits[i]
		one, data, err := p.visit(f, i, b, s)
		if err != nil {
			return v, err
		}
		one.Number = len(page.Data)
		page.Data = append(page.Data, data)
		v.Visits = append(v.Visits, one)
		moments = append(moments, scene.Moment{Day: visit.Grid.Day, Label: p.Units.ShortDay(visit.Date), Mean: visit.Assess.Mean, Highest: visit.Assess.Max})
		if len(s.Unread()) > 0 {
			v.NotRead = p.Units.Text(scene.UnreadMeaning)
		}
		if len(s.Treated) > 0 {
			v.Treated = p.Units.Text("sprayed ground")
		}
		p.explain(&v, s)
	}
	v.Layers = append(v.Layers, layerView{scene.LayerStops, p.Units.Text("stops"), true}, layerView{scene.LayerValues, p.Units.Text("counts"), false})
	if v.Treated != "" {
		v.Layers = append(v.Layers, layerView{scene.LayerTreated, v.Treated, true})
	}
	if v.NotRead != "" {
		v.Layers = append(v.Layers, layerView{scene.LayerUnread, p.Units.Text("not read"), true})
	}
	chart := scene.Growth(moments, f.Levels().TreatAt)
	body, err := scene.Fragment(chart)
	if err != nil {
		return v, err
	}
	v.Growth = chartView{fmt.Sprintf("0 0 %g %g", chart.Width, chart.Height), template.HTML(body)}
	for _, step := range report.AllSteps(f) {
		v.Steps = append(v.Steps, p.step(f, step))
	}
	v.Words = report.CompareGroups(report.CompareScreen{Result: p.Result, Units: p.Units}, f)
	return v, nil
}

// explain tells how zones and surfaces are to be read, and lists their switches, where
// the subject is the first that has them.
func (p Weeks) explain(v *weeksField, s scene.Subject) {
	if s.Zoned() && v.Legend == nil {
		v.Layers = append(v.Layers, layerView{scene.LayerZones, p.Units.Text("zones"), true})
		for _, c := range zones.Classes() {
			v.Legend = append(v.Legend, zoneRow{Class: c.String(), Legend: report.LegendZone(c, p.Units), Meaning: scene.Meaning(s, c, p.Units)})
		}
	}
	if s.Field.Trust.Believed() && v.Scale == nil {
		v.Layers = append(v.Layers, layerView{scene.LayerSurface, p.Units.Text("surface of counts"), false})
		v.Scale = append(v.Scale, scaleOfCounts(p.Units.Say("surface on all maps, %s", p.Result.Statistic.In(p.Units.Language())), surfaceOf(s), s.Result.Levels))
	}
}

// surfaceOf is the surface of a visit on the scale of all: its colours mean the same
// number on every map of the field.
func surfaceOf(s scene.Subject) scene.Surface {
	return scene.Surface{Grid: s.Ground.Surface.Value, Most: s.Highest()}
}

const (
	weekWidth  = 80  // mm, of one of several maps
	weekPixels = 160 // of its surface, along its longer side
)

func (p Weeks) visit(f *compare.Field, i int, b box, s scene.Subject) (visitView, fieldData, error) {
	m, plot := scene.MapIn(s, b.width, b.height)
	v := f.Visits[i]
	a := v.Assess
	if a.Trust.Believed() || a.Clean(v.Levels.Levels) {
		lay(&m, []scene.Layer{surfaceOf(s).Layer(scene.LayerSurface, s.Ground.XY, plot, weekPixels)})
	}
	body, err := scene.Fragment(m)
	if err != nil {
		return visitView{}, fieldData{}, err
	}
	one := visitView{
		Date: v.Date, Day: p.Units.Day(v.Date), ShortDay: p.Units.ShortDay(v.Date), Stops: len(a.Planned()), Used: report.StopsUsed(a, p.Units), Mean: report.Levelled(a.Mean, v.Levels.Levels), Max: report.Levelled(a.Max, v.Levels.Levels), Trust: report.Sentence(report.PlainTrusted(a.Trust, p.Units)), Blank: !s.Zoned(),
		ViewBox: b.viewBox(), Map: template.HTML(body), Bar: b.bar(plot, p.Units), Description: scene.Description(s, p.Units), Treated: treatedDays(f, i, p.Units),
	}
	if !a.Trust.Believed() && a.Clean(v.Levels.Levels) {
		one.Nothing = report.NothingToMap(p.Units)
	}
	data := dataOf(s, plot, p.Units)
	for _, z := range a.Map.Zones {
		one.Areas = append(one.Areas, p.Units.Bare(z.Area))
	}
	for _, stop := range a.Stops {
		data.Stops = append(data.Stops, onMap(stopOf(s.Result, stop, p.Units), stop, s, plot))
	}
	return one, data, nil
}

// treatedDays names the days of the treatments on the map of a visit; "" for none.
func treatedDays(f *compare.Field, visit int, u figures.Units) string {
	var days []string
	for _, t := range treatedOn(f, visit) {
		if day := u.Day(t.Date); !slices.Contains(days, day) {
			days = append(days, day)
		}
	}
	return strings.Join(days, ", ")
}

func (p Weeks) step(f *compare.Field, s *compare.Step) stepView {
	v := stepView{Between: p.Units.Say("%s to %s", p.Units.Day(f.Visits[s.From].Date), p.Units.Day(f.Visits[s.To].Date)), Verdict: report.StepVerdict(p.Result, f, s), Parts: report.PartTexts(p.Result, s), Warnings: report.UnlikeTexts(f, s)}
	for _, from := range zones.Classes() {
		row := stepRow{From: report.ShownZone(from, p.Units), All: p.Units.Bare(s.Table.From(from))}
		for _, to := range zones.Classes() {
			row.Areas = append(row.Areas, p.Units.Bare(s.Table[from][to]))
		}
		v.Rows = append(v.Rows, row)
		v.All = append(v.All, p.Units.Bare(s.Table.To(from)))
	}
	for _, k := range change.Kinds() {
		if s.Areas[k] > 0 {
			text := fmt.Sprintf("%s %s", report.GroundWordIn(k, p.Units), p.Units.Area(s.Areas[k]))
			if len(s.TreatedOn) > 0 {
				text += p.Units.Say(" (%s treated)", p.Units.Area(s.Treated[k]))
			}
			v.Ground = append(v.Ground, text)
		}
	}
	return v
}
