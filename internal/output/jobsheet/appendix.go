package jobsheet

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// A flow writes down one page after the other.
type flow struct {
	title string
	units figures.Units
	pages []*pen
	y     float64
}

func newFlow(title string, u figures.Units) *flow {
	f := &flow{title: title, units: u}
	f.turn()
	return f
}

// turn begins a page.
func (f *flow) turn() {
	d := &pen{k: 1, sign: 1}
	f.pages = append(f.pages, d)
	f.y = d.title(17, f.title, f.units) + 1
}

// pen is that of the page on which so much more has room.
func (f *flow) pen(height float64) *pen {
	if f.y+height > lowest {
		f.turn()
	}
	return f.pages[len(f.pages)-1]
}

func (f *flow) heading(text string) {
	d := f.pen(20)
	f.y = d.heading(edge, f.y+3, pageWidth-2*edge, text)
}

// table writes rows of cells at places across the page, the first as a head that every
// page repeats.
func (f *flow) table(at []float64, rows [][]string) {
	head := func(d *pen) { f.y = d.cells(f.y, at, rows[0], bold()) }
	head(f.pen(10))
	for _, r := range rows[1:] {
		pages := len(f.pages)
		if d := f.pen(cellsHeight(at, r)); len(f.pages) > pages {
			f.y += 2
			head(d)
		}
		f.y = f.pages[len(f.pages)-1].cells(f.y, at, r, plain())
	}
}

// cells writes one row of a table and returns the baseline of the next.
func (p *pen) cells(y float64, at []float64, row []string, w words) (next float64) {
	next = y
	for i, text := range row {
		next = max(next, p.fill(edge+at[i], y, at[i+1]-at[i]-2, w, text))
	}
	return next + 0.4
}

func cellsHeight(at []float64, row []string) float64 {
	var d pen
	d.k = 1
	return d.cells(0, at, row, plain())
}

func (f *flow) scenes(words string) (out []scene.Scene) {
	for _, d := range f.pages {
		out = append(out, scene.Scene{Width: pageWidth, Height: pageHeight, Title: f.title, Description: words, Layers: []scene.Layer{{Name: "page", Items: d.items}}})
	}
	return out
}

const pageText = pageWidth - 2*edge

// appendix is what goes with the page of a field: the places of its passes, which file
// is for what, and how the figures came to be.
func (s Sheet) appendix(p page) []scene.Scene {
	u := s.Units
	f := newFlow(u.Say("%s: places, files, figures", p.job.Field), u)
	f.heading(u.Text("Where the boom goes on and off"))
	d := f.pen(5)
	f.y = d.fill(edge, f.y, pageText, plain(), s.switchPlaces()) + 1
	f.table([]float64{0, 16, 76, pageText}, passRows(p.job, u))
	if rows := s.fileRows(); len(rows) > 0 {
		f.y += 2
		f.heading(u.Text("Which file for what"))
		f.table([]float64{0, 40, 120, pageText}, append([][]string{{u.Text("For"), u.Text("File"), u.Text("Standard")}}, rows...))
	}
	f.y += 2
	f.heading(u.Text(howWorked))
	var rows [][]string
	for _, r := range p.worked {
		rows = append(rows, []string{r.label, r.value})
	}
	f.table([]float64{0, 50, pageText}, append([][]string{{u.Text("Figure"), u.Text("Value")}}, rows...))
	if len(s.Result.Jobs) == 1 {
		s.idle(f)
	}
	return f.scenes(u.Say("Places of %s, files and figures.", p.job.Field))
}

// howWorked heads the figures behind those that the sheet begins with.
const howWorked = "How this was worked out"

// passRows are the runs of a job as a table, with its head.
func passRows(j *handoff.Job, u figures.Units) [][]string {
	rows := [][]string{{u.Text("Pass"), u.Text("On: latitude, longitude"), u.Text("Off: latitude, longitude")}}
	for _, r := range runs(j) {
		rows = append(rows, []string{r.pass, latLon(r.on), latLon(r.off)})
	}
	return rows
}

// several heads the jobs of so many fields.
func (s Sheet) several(fields int) string {
	return s.Units.Say("Spray jobs: %s", s.Units.Counted(fields, "field"))
}

// totals are the pages of all fields together.
func (s Sheet) totals(all []page) []scene.Scene {
	u := s.Units
	f := newFlow(s.several(len(all)), u)
	f.heading(u.Text("All fields together"))
	for _, r := range s.totalRows() {
		d := f.pen(5)
		f.y = d.table(edge, f.y, pageText, []row{r})
	}
	f.y += 2
	f.heading(u.Text("Field by field"))
	rows := s.fieldRows()
	f.table([]float64{0, 62, 110, 130, 160, pageText}[:len(rows[0])+1], rows)
	s.idle(f)
	return f.scenes(u.Text("All fields together."))
}

// idle tells of fields without a job.
func (s Sheet) idle(f *flow) {
	if len(s.Result.Idle) == 0 {
		return
	}
	f.y += 2
	f.heading(s.Units.Text("No job"))
	for _, line := range s.idleLines() {
		f.y = f.pen(8).fill(edge, f.y, pageText, plain(), line) + 0.5
	}
}
