//go:build !small

package engine

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/spreadsheet"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// OverviewFiles are those of the overview of all fields.
var OverviewFiles = [...]string{overviewCSV, overviewXLSX}

// tables are the files of an overview by their names.
func tables(o report.Overview) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		overviewCSV: func(w io.Writer) error {
			t := csv.NewWriter(w)
			for _, row := range o.Table() {
				cells := make([]string, len(row))
				for i, v := range row {
					cells[i] = fmt.Sprint(v)
				}
				if err := t.Write(spreadsheet.Row(cells...)); err != nil {
					return err
				}
			}
			t.Flush()
			return t.Error()
		},
		overviewXLSX: func(w io.Writer) error {
			return spreadsheet.WriteBook(w, spreadsheet.Sheet{Name: o.Units.Text("fields"), Rows: o.Table()})
		},
	}
}

// grower tells who grows a field; nil where no file tells of any.
func (l fieldList) grower() func(field string) string {
	if len(l.Growers()) == 0 {
		return nil
	}
	return func(field string) string {
		e, _ := l.Of(field)
		return e.Grower
	}
}

// Overview is the files of an overview of all fields of several maps that were made of
// one request, and of fields, by their names, in which nobody counted.
func Overview(q MapRequest, made []*MapOutcome, nobody []string) (files []File, err error) {
	g, err := q.ground(q.Boundary)
	if err != nil {
		return nil, err
	}
	list, err := q.rosterOn(g.Fields)
	if err != nil {
		return nil, err
	}
	o := report.Overview{Units: q.Settings.Said(), Grower: list.grower()}
	for _, m := range made {
		o.Of = append(o.Of, report.Answered{Result: m.Result, Verdicts: m.Verdicts})
	}
	left, err := g.notScouted(nobody)
	if err != nil {
		return nil, err
	}
	o.Of = append(o.Of, report.Answered{Result: left})
	write := tables(o)
	for _, name := range OverviewFiles {
		var b bytes.Buffer
		if err := write[name](&b); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		files = append(files, File{name, b.Bytes()})
	}
	return files, nil
}

// notScouted is a result of some fields without stops.
func (g ground) notScouted(names []string) (*assess.Result, error) {
	r := &assess.Result{}
	for _, f := range g.Fields {
		if !slices.Contains(names, f.Name) {
			continue
		}
		frame, err := geo.FrameOf(f.Boundary)
		if err != nil {
			return nil, fmt.Errorf("field %q: %w", f.Name, err)
		}
		r.Fields = append(r.Fields, &assess.Field{Field: f, Frame: frame, XY: frame.ForwardPolygons(f.Boundary)})
	}
	return r, nil
}

// overviewOf is that of a morning.
func (m *morning) overviewOf(units figures.Units, of report.Answered) (report.Overview, error) {
	list, err := m.rosterOn(m.fields)
	return report.Overview{Units: units, Grower: list.grower(), Of: []report.Answered{of}}, err
}
