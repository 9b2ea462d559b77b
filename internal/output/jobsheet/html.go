package jobsheet

import (
	_ "embed" // the page as markup
	"fmt"
	"html/template"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/visible"
	"github.com/geocoris/geocoris/internal/output/scene"
)

//go:embed sheet.html
var markup string

// htmlPage is what the markup is filled with.
type htmlPage struct {
	Language     string
	Title        string
	Fields       []htmlField
	Several      bool
	Totals       []row
	ByField      [][]string
	Idle         []string
	Files        [][]string
	Cautions     []string
	SwitchPlaces string
	HowWorked    string
	LabelBlanks  []string
	Weather      []string

	units figures.Units
}

// Say is for the markup.
func (p htmlPage) Say(english string) string { return p.units.Text(english) }

// htmlField is a field's part of it.
type htmlField struct {
	Number                  int
	Name                    string
	Warning, Head, Subtitle string
	Banner, Says            []string
	Ground, Work, Places    []row
	Mix, Worked             []row
	Maps                    []htmlMap
	Legend                  []htmlSign
	Geo                     template.URL // address of where the field is, RFC 5870
	Where                   row
	Passes                  []htmlRun
	PassCount               string
}

// htmlRun is a stretch of a pass; latitude and longitude are words of their own, which
// do not break.
type htmlRun struct {
	Pass    string
	On, Off [2]string
}

// htmlMap is a map of it.
type htmlMap struct {
	Label, Caption, ViewBox string
	Picture                 template.HTML
}

type htmlSign struct {
	Text    string
	Picture template.HTML
}

// WriteHTML writes the sheet as one self-contained file that reflows on a phone and
// prints on A4 and Letter, a page or more for each field.
func (s Sheet) WriteHTML(w io.Writer) error {
	t, err := template.New("sheet").Parse(markup)
	if err != nil {
		return err
	}
	u := s.Units
	p := htmlPage{
		units: u, Language: u.Language().String(),
		Several: len(s.Result.Jobs) > 1, Totals: s.totalRows(), ByField: s.fieldRows(), Idle: s.idleLines(), Files: s.fileRows(), Cautions: cautionsIn(u),
		SwitchPlaces: s.switchPlaces(), HowWorked: u.Text(howWorked), LabelBlanks: labelBlanks(u), Weather: weatherBlanks(u),
	}
	for i, of := range s.pages() {
		f, err := htmlFieldOf(of)
		if err != nil {
			return err
		}
		f.Number = i + 1
		p.Fields = append(p.Fields, f)
	}
	p.Title = u.Say("Spray job: %s", s.Result.Jobs[0].Field)
	if p.Several {
		p.Title = s.several(len(p.Fields))
	}
	var b strings.Builder
	if err := t.Execute(&b, p); err != nil {
		return err
	}
	_, err = io.WriteString(&visible.Writer{To: w}, b.String())
	return err
}

func htmlFieldOf(p page) (f htmlField, err error) {
	where, rest := p.places[0], p.places[1:]
	f = htmlField{
		Name: p.job.Field, Warning: p.warning, Head: p.title, Subtitle: p.subtitle, Banner: p.banner, Says: p.says, Ground: p.ground, Work: p.work,
		Where: where, Places: rest, Mix: p.mix, Worked: p.worked,
	}
	for _, r := range runs(p.job) {
		f.Passes = append(f.Passes, htmlRun{r.pass, [2]string{degreesOf(r.on[1]), degreesOf(r.on[0])}, [2]string{degreesOf(r.off[1]), degreesOf(r.off[0])}})
	}
	u := p.units
	f.PassCount = u.Counted(len(p.job.Plan.Passes), "pass")
	at := whereabouts(p.job)
	f.Geo = template.URL("geo:" + degreesOf(at[1]) + "," + degreesOf(at[0]))
	field, ground := views(p.job)
	if err := f.add(p, field, u.Text("Field"), p.inWords()); err != nil {
		return f, err
	}
	if ground != nil {
		if err := f.add(p, *ground, u.Text("Spray ground, larger"), u.Say("The spray ground of %s with its passes, larger.", p.job.Field)); err != nil {
			return f, err
		}
	}
	for _, m := range legend(p.job, ground != nil, u) {
		d := pen{k: 1, sign: 1}
		m.draw(&d, 0, signHeight)
		picture, err := d.fragment()
		if err != nil {
			return f, err
		}
		f.Legend = append(f.Legend, htmlSign{m.text, picture})
	}
	return f, nil
}

// Maps of a page are so wide in their own units, and writing on them is so much larger
// than in print, as they are smaller on a phone.
const (
	screenMap  = 100.0
	screenSign = 1.5
)

func (f *htmlField) add(p page, v view, caption, label string) error {
	w, h := v.bound.Max[0]-v.bound.Min[0], v.bound.Max[1]-v.bound.Min[1]
	in := frame{0.2, 0.2, screenMap - 0.4, min(max(screenMap*h/max(w, 1), 50), 105) + footOf(screenSign)}
	d := pen{k: 1, sign: screenSign}
	d.drawMap(p.job, v, p.units, in)
	picture, err := d.fragment()
	f.Maps = append(f.Maps, htmlMap{Label: label, Caption: caption, Picture: picture, ViewBox: fmt.Sprintf("0 0 %g %.1f", screenMap, in.h+0.4)})
	return err
}

func (p *pen) fragment() (template.HTML, error) {
	text, err := scene.Fragment(scene.Scene{Layers: []scene.Layer{{Name: "map", Items: p.items}}})
	return template.HTML(text), err
}
