package report

import (
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/sorted"
)

// An Overview is all fields of one morning or several in a table, the worst first, to be
// sorted and sent on.
type Overview struct {
	Of     []Answered
	Units  figures.Units
	Grower func(field string) string // "" where it is not known; nil knows none
}

// Answered is a result with its answers.
type Answered struct {
	Result   *assess.Result
	Verdicts []verdict.Verdict
}

// Table is the table with its header: texts, and numbers as float64 or int. Days are
// ISO 8601, "" where the counts tell none; areas are in the units chosen, in both
// where none are.
func (o Overview) Table() [][]any {
	header := []any{o.Units.Text("field")}
	if o.Grower != nil {
		header = append(header, o.Units.Text("grower"))
	}
	header = append(header, o.Units.Text("answer"))
	for _, unit := range o.areas() {
		header = append(header, o.Units.Say("to spray, %s", unit.name))
	}
	header = append(header, o.Units.Text("look again by"))
	for _, unit := range o.areas() {
		header = append(header, o.Units.Say("field, %s", unit.name))
	}
	header = append(header, o.Units.Text("stops"), o.Units.Text("average"), o.Units.Text("spray level"), o.Units.Text("counted as"), o.Units.Text("day of the count"))
	table := [][]any{header}
	for _, r := range o.rows() {
		table = append(table, o.cells(r))
	}
	return table
}

// overviewRow is a field with the result that it is of.
type overviewRow struct {
	row
	of *assess.Result
}

func (o Overview) rows() (rows []overviewRow) {
	for _, one := range o.Of {
		of := byField(one.Verdicts)
		for _, f := range one.Result.Fields {
			rows = append(rows, overviewRow{rowOf(f, of), one.Result.Of(f)})
		}
	}
	sorted.Stably(rows, func(a, b overviewRow) int { return worse(a.row, b.row) })
	return rows
}

type areaUnit struct {
	name string
	of   func(m2 float64) float64
}

func (o Overview) areas() []areaUnit {
	ha, acres := areaUnit{"ha", figures.Hectares}, areaUnit{o.Units.Language().Things(2, "acre"), figures.Acres}
	switch {
	case o.Units.InUS():
		return []areaUnit{acres}
	case o.Units.InBoth():
		return []areaUnit{ha, acres}
	}
	return []areaUnit{ha}
}

func (o Overview) cells(r overviewRow) []any {
	answer, spray := o.Units.Text("not scouted"), 0.0
	if r.judged {
		answer = ShortAnswer(r.v.Kind, o.Units)
		spray = map[verdict.Kind]float64{verdict.TreatWhole: r.v.Area, verdict.SpotSpray: r.v.TreatArea}[r.v.Kind]
	}
	cells := []any{r.field.Name}
	if o.Grower != nil {
		cells = append(cells, o.Grower(r.field.Name))
	}
	cells = append(cells, answer)
	for _, unit := range o.areas() {
		if r.judged {
			cells = append(cells, hundredths(unit.of(spray)))
		} else {
			cells = append(cells, "") // nothing says that it is none
		}
	}
	cells = append(cells, o.lookBy(r))
	for _, unit := range o.areas() {
		cells = append(cells, hundredths(unit.of(geo.Area(r.field.XY))))
	}
	if !r.judged {
		return append(cells, len(r.field.Stops), "", "", "", "")
	}
	return append(cells, r.v.Stats.Stops, hundredths(r.v.Stats.Mean), hundredths(r.of.Levels.TreatAt), r.of.Statistic.String(), interval(r.field.Days()))
}

// lookBy is the day by which the field is to be looked at again.
func (o Overview) lookBy(r overviewRow) any {
	switch {
	case !r.judged:
		return ""
	case r.v.Stale:
		return o.Units.Text("today")
	case r.v.On != "":
		return r.v.On
	}
	return o.Units.Counted(int(r.v.Days), "day")
}

func hundredths(v float64) float64 { return math.Round(v*100) / 100 }
