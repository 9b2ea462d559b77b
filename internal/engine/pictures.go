//go:build !small

package engine

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	view "github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// drawing are what files to be looked at are made from.
type drawing struct {
	said      figures.Units // of page and pictures
	result    *assess.Result
	subjects  []scene.Subject // of fields with stops
	counted   []scene.Subject // of all fields in which somebody counted
	unscouted []string
	made      MapRecord
	notes     []string
}

// pictures draws each field in which somebody counted, if any file wants it.
func (m *morning) pictures(r *assess.Result, made MapRecord, notes []string) ([]rendering, error) {
	names, err := m.Settings.wanted()
	if err != nil || len(names) == 0 {
		return nil, err
	}
	l := drawing{said: m.Settings.Said(), result: r, made: made, notes: notes}
	if m.Settings.draws() {
		if err := l.subjectsOf(m.answers); err != nil {
			return nil, err
		}
	}
	all, err := m.overviewOf(l.said, report.Answered{Result: r, Verdicts: m.answers})
	if err != nil {
		return nil, err
	}
	writers := tables(all)
	writers[reportFile], writers[pdfFile], writers[tiffFile], writers[kmzFile] = l.report, l.pdf, l.tiff, l.kmz
	var pages []rendering
	for _, name := range names {
		if write, one := writers[name]; one {
			pages = append(pages, rendering{name, write})
			continue
		}
		more, err := l.drawings(name)
		if err != nil {
			return nil, err
		}
		pages = append(pages, more...)
	}
	return pages, nil
}

// subjectsOf gathers what the pictures are of, on one scale of stops.
func (l *drawing) subjectsOf(answers []verdict.Verdict) error {
	for _, f := range l.result.Fields {
		if !f.Scouted() && !f.NoneRead() {
			l.unscouted = append(l.unscouted, f.Name)
			continue
		}
		s := scene.Subject{Result: l.result.Of(f), Field: f, Ground: &assess.MetricField{Frame: f.Frame, XY: f.XY}}
		if f.Scouted() {
			ground, err := f.Metric()
			if err != nil {
				return err
			}
			s.Ground = ground
		}
		for i, v := range answers {
			if v.Field == f.Name {
				s.Verdict = &answers[i]
			}
		}
		l.counted = append(l.counted, s)
	}
	l.counted = scene.OneScale(l.counted)
	for _, s := range l.counted {
		if s.Field.Scouted() {
			l.subjects = append(l.subjects, s)
		}
	}
	return nil
}

func (l drawing) report(w io.Writer) error {
	p := view.Page{Units: l.said, Notes: l.notes, Program: l.made.Program + " " + l.made.Version, Command: l.made.Command}
	for _, in := range l.made.Inputs {
		p.Inputs = append(p.Inputs, view.Input{Path: in.Path, SHA256: in.SHA256})
	}
	for _, s := range l.subjects {
		p.Fields = append(p.Fields, view.Field{Subject: s})
	}
	return p.Write(w)
}

// several reports whether the fields are shown by an overview too. A field of which no
// stop was read has no other picture.
func (l drawing) several() bool { return len(l.counted) > 1 || len(l.subjects) == 0 }

// drawings are the files of a PNG or SVG: of one field the picture itself; of several
// their overview, and a picture of each.
func (l drawing) drawings(file string) (files []rendering, err error) {
	sheet, write := l.sheet(scene.Phone()), pngOf
	if file == svgFile {
		sheet, write = l.sheet(l.paper()), scene.WriteSVG
		sheet.Viewer = true
	}
	drawn := func(name string, draw func() (scene.Scene, error)) {
		files = append(files, rendering{name, func(w io.Writer) error {
			s, err := draw()
			if err != nil {
				return err
			}
			return write(w, s)
		}})
	}
	if !l.several() {
		drawn(file, func() (scene.Scene, error) { return sheet.Of(l.subjects[0]) })
		return files, nil
	}
	pages, err := l.overview(sheet)
	if err != nil {
		return nil, err
	}
	for i, page := range pages {
		drawn(overviewPage(file, i), func() (scene.Scene, error) { return page, nil })
	}
	most := mostPictures
	for i, stem := range stems(namesOf(l.counted)) {
		if s := l.counted[i]; s.Field.Scouted() && most > 0 {
			most--
			drawn(stem+path.Ext(file), func() (scene.Scene, error) { return sheet.Of(s) })
		}
	}
	return files, nil
}

func namesOf(subjects []scene.Subject) (names []string) {
	for _, s := range subjects {
		names = append(names, s.Field.Name)
	}
	return names
}

func (l drawing) sheet(p scene.Paper) scene.Sheet {
	return scene.Sheet{Paper: p, Units: l.said, Sources: l.sources()}
}

func (l drawing) overview(sheet scene.Sheet) ([]scene.Scene, error) {
	return scene.Overview{Sheet: sheet, Title: report.Title(l.result, l.said), Unscouted: l.unscouted}.Pages(l.counted)
}

// sources are the names of the inputs and of the program.
func (l drawing) sources() string {
	var names []string
	for _, in := range l.made.Inputs {
		names = append(names, filepath.Base(in.Path))
	}
	return l.said.Say("From %s; %s %s", strings.Join(names, ", "), l.made.Program, l.made.Version)
}

// paper is letter where units are those of the US.
func (l drawing) paper() scene.Paper {
	if l.said.InUS() {
		return scene.Letter()
	}
	return scene.A4()
}

func pngOf(w io.Writer, s scene.Scene) error { return scene.WritePNG(w, s, scene.PhonePixels) }

// pdf has a page for each field, after an overview where there are several.
func (l drawing) pdf(w io.Writer) (err error) {
	sheet := l.sheet(l.paper())
	var scenes []scene.Scene
	if l.several() {
		if scenes, err = l.overview(sheet); err != nil {
			return err
		}
	}
	for _, s := range l.subjects {
		drawn, err := sheet.Of(s)
		if err != nil {
			return fmt.Errorf("field %q: %w", s.Field.Name, err)
		}
		scenes = append(scenes, drawn)
	}
	return scene.WritePDF(w, scenes)
}

func (l drawing) tiff(w io.Writer) error {
	var grounds []*assess.MetricField
	words := []string{report.Title(l.result, figures.Both) + ", " + report.StatisticOf(l.result)}
	for _, s := range l.subjects {
		grounds = append(grounds, s.Ground)
		words = append(words, s.Field.Name+": "+report.TrustText(s.Field.Trust))
	}
	r, err := assess.RasterOf(grounds)
	if err != nil {
		return err
	}
	return geofile.WriteGeoTIFF(w, geofile.Raster{
		Zone: r.Zone, North: r.North, West: r.West, NorthEdge: r.NorthEdge, Cell: r.Cell, Cols: r.Cols, Rows: r.Rows,
		Description: strings.Join(words, "; "), Band: report.BandName(l.result), Unit: report.BandUnit(l.result), Values: r.Values,
	})
}

// kmz shows every field's surface on one scale.
func (l drawing) kmz(w io.Writer) error {
	o := geofile.Overlays{Name: "Surface: " + report.Title(l.result, figures.Both), Description: strings.Join(report.Cautions(), "\n")}
	o.Styles, o.Folders = report.UnreadMarks(l.result, l.said)
	s := scene.Surface{}
	for _, f := range l.subjects {
		s.Most = max(s.Most, f.Field.Max)
	}
	for _, f := range l.subjects {
		d := f.Ground.Degrees()
		png, err := s.Picture(d)
		if err != nil {
			return err
		}
		o.Pictures = append(o.Pictures, geofile.Overlay{Name: f.Field.Name + ": " + report.TrustText(f.Field.Trust), PNG: png, West: d.West, South: d.South, East: d.East, North: d.North})
	}
	legend, err := s.Legend(report.Title(l.result, figures.Both)+", "+report.StatisticOf(l.result), report.LevelsOf(l.result))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	const perMM = 5
	if err := scene.WritePNG(&b, legend, perMM); err != nil {
		return err
	}
	o.Legend = b.Bytes()
	return geofile.WriteOverlaysKMZ(w, o)
}
