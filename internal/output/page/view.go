package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const (
	mapWidth  = 110 // mm on paper; on a screen as wide as there is room
	mapHeight = 125
	pixels    = 240 // of a surface, along its longer side
)

// common is what the templates show on every page.
type common struct {
	Policy     string
	Look       template.CSS
	Behaviour  template.JS
	Title      string
	Statistic  string
	Levels     []levelView
	Notes      []string
	Cautions   []string
	Program    string
	Command    string
	Inputs     []Input
	Data       []fieldData // of each map
	Spoken     map[string]string
	SingleMany string // "single" or "many" fields, a class
}

// levelView is a level and where it comes from, which is cited as it is.
type levelView struct{ Text, Source string }

func levelsCaution(u figures.Units) levelView {
	return levelView{Text: report.Sentence(u.Text(report.LevelsCaution)) + "."}
}

// levelsOfFields are those of several fields, which lines tell with their sources.
func levelsOfFields(lines []string) (all []levelView) {
	for _, line := range lines {
		all = append(all, levelView{Source: line})
	}
	return all
}

// commonOf is what every page has whose result has such levels and fields.
func commonOf(title string, stat assess.Statistic, l assess.Levels, fields int, look template.CSS, u figures.Units) common {
	c := common{
		Policy: policy(look), Look: look, Behaviour: template.JS(behaviour),
		Title: title, Statistic: stat.In(u.Language()), Cautions: report.CautionsIn(u), Data: []fieldData{}, Spoken: spoken(u), SingleMany: "single",
		Levels: []levelView{
			{Text: u.Say("Spray at %s:", u.Level(l.TreatAt)), Source: l.TreatSource},
			{Text: u.Say("Watch at %s:", u.Level(l.WatchAt)), Source: l.WatchSource},
			levelsCaution(u),
		},
	}
	if fields > 1 {
		c.SingleMany = "many"
	}
	return c
}

// view is what the template of a morning shows.
type view struct {
	common
	Rows      string
	SetAside  []string
	Unscouted []string
	NoneRead  []string // fields that somebody counted in
	Fields    []fieldView
}

type fieldView struct {
	Number      int
	Name        string
	Figures     string
	Verdict     string
	Reasons     []string // why, how sure, and what to look out for, in plain words
	More        []string // the same with all figures
	Trust       string
	TrustPlain  string // without figures
	TrustBad    bool
	TrustWhy    []string
	Nothing     string // to be mapped, and why; "" where there is
	Small       smallView
	Open        bool
	ViewBox     string
	Map         template.HTML
	Bar         barView
	Description string
	Layers      []layerView
	Scale       []scaleView
	Sizes       []sizeView
	Extra       string // what a ring round a stop means; "" where there is none
	NotRead     string // what ? on the map means; "" where there is none
	Legend      bool   // of the zones, where they are drawn
	Zones       []zoneRow
	Unscouted   string
	Outside     []string
	Expected    string
	Method      string
	Score       string
	Hindsight   *assess.Hindsight
	TreatAt     string
	LeftOut     chartView
	Histogram   chartView
	Classes     []scene.Class
	Stops       []stopData
	AllStops    string // how many, the extra ones said apart
}

// layerView is a switch.
type layerView struct {
	Name, Word string
	On         bool
}

// scaleView explains the colours of a surface.
type scaleView struct {
	Name  string
	Title string
	Ticks []tick
}

type tick struct{ Colour, Label string }

type sizeView struct {
	Radius, Edge, Side string // of the disc, of its box
	Width              string // as a share of the map's
	Label              string
	Black              bool
}

type zoneRow struct {
	Class                                           string // as files and styles call it
	Zone, Legend, Meaning, Ha, Ac, Share, Mean, Max string
	Stops                                           int
	None                                            bool // no ground is of it
}

type chartView struct {
	ViewBox string
	Body    template.HTML
}

func (p Page) view() (view, error) {
	r := p.Fields[0].Result
	t := r.Tally()
	fields, b := p.onOneScale()
	v := view{
		common: commonOf(report.Title(r, p.Units), r.Statistic, r.Levels, len(p.Fields), b.look(), p.Units),
		Rows:   p.Units.Say("%s read, %s used, %s set aside", p.Units.Counted(t.Read, "row"), p.Units.Number(t.Used), p.Units.Number(t.SetAside)),
	}
	if r.Several() {
		v.Statistic, v.Levels = report.StatisticOf(r), append(levelsOfFields(report.LevelLines(r)), levelsCaution(p.Units))
	}
	v.Notes, v.Program, v.Command, v.Inputs = p.notes(), p.Program, p.Command, p.Inputs
	if t.OtherPest > 0 {
		v.Rows += p.Units.Say(", %d of another pest", t.OtherPest)
	}
	v.SetAside = setAside(r)
	for _, f := range r.Fields {
		switch {
		case f.NoneRead():
			v.NoneRead = append(v.NoneRead, fmt.Sprintf("%s, %s: %s", f.Name, p.Units.Area(f.Area), p.Units.Text(report.NoneRead)))
		case !f.Scouted():
			v.Unscouted = append(v.Unscouted, fmt.Sprintf("%s, %s", f.Name, p.Units.Area(f.Area)))
		}
	}
	for i, f := range fields {
		fv, data, err := f.view(i, p.Units, b)
		if err != nil {
			return v, fmt.Errorf("field %q: %w", f.Field.Name, err)
		}
		if fv.Open = i == 0 && len(fields) <= fewFields; len(fields) > 1 {
			if fv.Small, err = small(f.Subject); err != nil {
				return v, err
			}
		}
		v.Fields, v.Data = append(v.Fields, fv), append(v.Data, data)
	}
	return v, nil
}

// setAside names every refused and doubtful row and every stop in no field.
func setAside(r *assess.Result) (lines []string) {
	for _, p := range r.Survey.Problems {
		line := p.String()
		if p.Severity == survey.Doubtful {
			line += " (used)"
		}
		lines = append(lines, line)
	}
	for _, s := range r.Away {
		rec := s.Records[0]
		lines = append(lines, fmt.Sprintf("%s:%d: stop %s at %.6f, %.6f: %s", rec.File, rec.Line, s.Name, s.Longitude, s.Latitude, report.WhyAway))
	}
	return lines
}

// onOneScale are the fields, worst first, with one scale for their stops and one size for
// their maps.
func (p Page) onOneScale() (fields []Field, b box) {
	fields = worstFirst(p.Fields)
	var subjects []scene.Subject
	for _, f := range fields {
		subjects = append(subjects, f.Subject)
	}
	b = boxOf(mapWidth, subjects)
	for i, s := range b.shared(subjects) {
		fields[i].Subject = s
	}
	return fields, b
}

func (f Field) view(number int, u figures.Units, b box) (fieldView, fieldData, error) {
	m, plot := scene.MapIn(f.Subject, b.width, b.height)
	v := fieldView{Number: number, Name: f.Field.Name, TreatAt: figures.Level(f.Result.Levels.TreatAt), ViewBox: b.viewBox(), Bar: b.bar(plot, u), Sizes: b.sizes(f.Subject)}
	f.surfaces(&v, &m, plot, u)
	body, err := scene.Fragment(m)
	if err != nil {
		return v, fieldData{}, err
	}
	v.Map = template.HTML(body)
	v.Description = scene.Description(f.Subject, u)
	f.words(&v, u)
	f.trust(&v, u)
	if err := f.charts(&v, u); err != nil {
		return v, fieldData{}, err
	}
	data := dataOf(f.Subject, plot, u)
	for _, s := range f.Field.Stops {
		v.Stops = append(v.Stops, onMap(stopOf(f.Result, s, u), s, f.Subject, plot))
	}
	data.Stops, v.AllStops = v.Stops, report.Stops(f.Field, u)
	if f.Field.ExtraStops() > 0 {
		v.Extra = u.Text(scene.ExtraMeaning)
	}
	if len(f.Unread()) > 0 {
		v.NotRead = u.Text(scene.UnreadMeaning)
	}
	return v, data, nil
}

// onMap says where a stop stands on a map, and how large.
func onMap(d stopData, stop assess.Stop, s scene.Subject, p scene.Plot) stopData {
	at := p.Point(stop.XY)
	d.X, d.Y, d.R = round(at.X), round(at.Y), round(scene.StopRadius(stop.Value, s.Highest(), s.Full))
	return d
}

func (f Field) words(v *fieldView, u figures.Units) {
	a := f.Field
	v.Figures = fmt.Sprintf("%s, %s%s; %s", u.Area(a.Area), report.Stops(a, u), report.OwnDays(f.Result, a, u.Text(", counted %s"), u), report.Averaged(f.Result, a, u))
	if f.Verdict != nil {
		plain := report.PlainOf(f.Result, a, *f.Verdict, u)
		v.Verdict = plain.Answer
		for _, said := range [][]string{plain.Why, plain.Sure, append(report.Guesses(f.Result, a, u), plain.LookOut...)} {
			if len(said) > 0 {
				v.Reasons = append(v.Reasons, strings.Join(said, " "))
			}
		}
		more := append([]string{report.VerdictHeading(*f.Verdict, u)}, report.VerdictReasons(*f.Verdict, u)...)
		if until := report.GoodUntil(*f.Verdict); until != "" {
			more = append(more, until)
		}
		for _, reason := range more {
			v.More = append(v.More, report.Sentence(reason))
		}
	}
	for _, z := range a.Map.Zones {
		v.Zones = append(v.Zones, zoneRow{
			Class: z.Class.String(), Zone: report.ShownZone(z.Class, u), Legend: report.LegendOf(z.Class, f.Verdict, u), Meaning: scene.Meaning(f.Subject, z.Class, u),
			Ha: figures.Metric.Bare(z.Area), Ac: figures.US.Bare(z.Area), Share: figures.Share(a.Map.Share(z.Class)),
			Mean: report.Levelled(z.Mean, f.Result.Levels.Levels), Max: report.Highest(a, z.Class, f.Result.Levels.Levels), Stops: a.StopsIn(z.Class), None: z.Area == 0,
		})
	}
	if text := report.Unscouted(a, u); text != "" {
		v.Unscouted = report.Sentence(text) + "."
	}
	for _, s := range a.Stops {
		if s.Outside > 0 {
			v.Outside = append(v.Outside, "Stop "+report.Outside(s, u)+".")
		}
	}
}

func (f Field) trust(v *fieldView, u figures.Units) {
	a := f.Field
	v.Trust, v.TrustBad, v.TrustWhy = report.TrustTextIn(a.Trust, u), !a.Trust.Believed(), report.TrustReasonsIn(a.Trust, u)
	v.TrustPlain = report.TrustLine(f.Result, a, u)
	if v.TrustBad && a.Clean(f.Result.Levels.Levels) {
		v.TrustBad = false
		if f.Verdict == nil { // which says it with its reasons
			v.Nothing = report.NothingToMap(u)
		}
	}
	idw := a.Settings.IDW
	v.Method = fmt.Sprintf("inverse distance weighting, power %g over the %d nearest stops", idw.Power, idw.Neighbors)
	if idw.Neighbors < 0 {
		v.Method = fmt.Sprintf("inverse distance weighting, power %g over all stops", idw.Power)
	}
	v.Method += fmt.Sprintf(", cells of %s", u.Distance(a.Settings.Cell))
	v.Score = fmt.Sprintf("Each of %s was predicted from the others: off by %s on average, root mean square %s, skill %s.",
		figures.Counted(a.Trust.Score.N, "stop"), figures.Short(a.Trust.Score.MAE), figures.Short(a.Trust.Score.RMSE), figures.Short(a.Trust.Score.Skill))
	if a.Hindsight.Over > 0 {
		v.Hindsight = &a.Hindsight
	}
	if c := a.Chance; c != nil && !math.IsNaN(c.Caught) {
		text := report.Expected(f.Result, a, u)
		v.Expected = strings.ToUpper(text[:1]) + text[1:] + "."
	}
}

func (f Field) charts(v *fieldView, u figures.Units) error {
	var values []float64
	var pairs []scene.Pair
	for _, s := range f.Field.Planned() {
		values = append(values, s.Value)
	}
	for _, s := range f.Field.Stops {
		if !math.IsNaN(s.LeftOut) {
			pairs = append(pairs, scene.Pair{Found: s.Value, Predicted: s.LeftOut})
		}
	}
	v.Classes = scene.Classes(values)
	for _, c := range []struct {
		scene scene.Scene
		to    *chartView
	}{
		{scene.Histogram(v.Classes, u.Say("%s of a stop, up to", f.Result.Statistic.In(u.Language()))), &v.Histogram},
		{scene.LeftOut(pairs, f.Result.Levels.Levels, u), &v.LeftOut},
	} {
		body, err := scene.Fragment(c.scene)
		if err != nil {
			return err
		}
		*c.to = chartView{fmt.Sprintf("0 0 %g %g", c.scene.Width, c.scene.Height), template.HTML(body)}
	}
	return nil
}

func round(v float64) float64 { return math.Round(v*100) / 100 }
