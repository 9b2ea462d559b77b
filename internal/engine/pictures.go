package engine

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	view "github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// Files to be looked at, which are made when asked for.
const (
	reportFile = "report.html"
	pngFile    = "map.png"
	svgFile    = "map.svg"
	pdfFile    = "map.pdf"
	tiffFile   = "surface.tif"
	kmzFile    = "surface.kmz"
)

// PictureFiles are the names of the files to be looked at.
var PictureFiles = [...]string{reportFile, pngFile, svgFile, pdfFile, tiffFile, kmzFile}

// mostPictures bounds the fields on one PNG or SVG, which stand below one another.
const mostPictures = 12

// WriteSettings say which files are wanted besides.
type WriteSettings struct {
	Write []string `toml:"write" json:"write,omitempty"`
}

// wanted are the names of the files, each once, in the order of [PictureFiles].
func (o WriteSettings) wanted() (names []string, err error) {
	asked := map[string]bool{}
	for _, w := range o.Write {
		switch name := strings.TrimSpace(w); {
		case name == "all":
			return PictureFiles[:], nil
		case name == "report":
			asked[reportFile] = true
		case slices.Contains(PictureFiles[:], name):
			asked[name] = true
		default:
			return nil, fmt.Errorf("--write %q: want report, %s, or all", name, strings.Join(PictureFiles[1:], ", "))
		}
	}
	for _, name := range PictureFiles {
		if asked[name] {
			names = append(names, name)
		}
	}
	return names, nil
}

// LeftOut says which fields the pictures asked for do not hold.
func (o WriteSettings) LeftOut(r *assess.Result) (notes []string) {
	names, err := o.wanted()
	if err != nil {
		return nil
	}
	var scouted []string
	for _, f := range r.Fields {
		if f.Scouted() {
			scouted = append(scouted, f.Name)
		}
	}
	for _, name := range names {
		if (name == pngFile || name == svgFile) && len(scouted) > mostPictures {
			notes = append(notes, fmt.Sprintf("%s holds the first %d fields with stops, not %s: map.pdf and the report hold all",
				name, mostPictures, strings.Join(scouted[mostPictures:], ", ")))
		}
	}
	return notes
}

// drawing are what files to be looked at are made from.
type drawing struct {
	units    figures.Units
	result   *assess.Result
	subjects []scene.Subject
	made     MapRecord
	notes    []string
}

// pictures draws each scouted field, if any file wants it.
func (m *morning) pictures(r *assess.Result, made MapRecord, notes []string) ([]rendering, error) {
	names, err := m.Settings.wanted()
	if err != nil || len(names) == 0 {
		return nil, err
	}
	l := drawing{units: m.Settings.Units, result: r, made: made, notes: notes}
	for _, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		ground, err := f.Ground()
		if err != nil {
			return nil, err
		}
		subject := scene.Subject{Result: r.Of(f), Field: f, Ground: ground}
		for i, v := range m.answers {
			if v.Field == f.Name {
				subject.Verdict = &m.answers[i]
			}
		}
		l.subjects = append(l.subjects, subject)
	}
	writers := map[string]func(io.Writer) error{
		reportFile: l.report, pngFile: l.png, svgFile: l.svg, pdfFile: l.pdf, tiffFile: l.tiff, kmzFile: l.kmz,
	}
	var pages []rendering
	for _, name := range names {
		pages = append(pages, rendering{name, writers[name]})
	}
	return pages, nil
}

func (l drawing) report(w io.Writer) error {
	p := view.Page{Units: l.units, Notes: l.notes, Program: l.made.Program + " " + l.made.Version, Command: l.made.Command}
	for _, in := range l.made.Inputs {
		p.Inputs = append(p.Inputs, view.Input{Path: in.Path, SHA256: in.SHA256})
	}
	for _, s := range l.subjects {
		p.Fields = append(p.Fields, view.Field{Subject: s})
	}
	return p.Write(w)
}

// sheets are a picture of each field on a paper.
func (l drawing) sheets(p scene.Paper, most int) (scenes []scene.Scene, err error) {
	return l.drawn(scene.Sheet{Paper: p, Units: l.units, Sources: l.sources()}, most)
}

func (l drawing) drawn(sh scene.Sheet, most int) (scenes []scene.Scene, err error) {
	for i, s := range l.subjects {
		if i == most {
			break
		}
		drawn, err := sh.Of(s)
		if err != nil {
			return nil, fmt.Errorf("field %q: %w", s.Field.Name, err)
		}
		scenes = append(scenes, drawn)
	}
	return scenes, nil
}

// sources are the names of the inputs and of the program.
func (l drawing) sources() string {
	var names []string
	for _, in := range l.made.Inputs {
		names = append(names, filepath.Base(in.Path))
	}
	return "From " + strings.Join(names, ", ") + "; " + l.made.Program + " " + l.made.Version
}

// paper is letter where units are those of the US.
func (l drawing) paper() scene.Paper {
	if l.units == figures.US {
		return scene.Letter()
	}
	return scene.A4()
}

func (l drawing) png(w io.Writer) error {
	scenes, err := l.sheets(scene.Phone(), mostPictures)
	if err != nil {
		return err
	}
	return scene.WritePNG(w, scene.Stack(scenes), scene.PhonePixels)
}

func (l drawing) svg(w io.Writer) error {
	scenes, err := l.drawn(scene.Sheet{Paper: l.paper(), Units: l.units, Sources: l.sources(), Viewer: true}, mostPictures)
	if err != nil {
		return err
	}
	return scene.WriteSVG(w, scene.Stack(scenes))
}

func (l drawing) pdf(w io.Writer) error {
	scenes, err := l.sheets(l.paper(), len(l.subjects))
	if err != nil {
		return err
	}
	return scene.WritePDF(w, scenes)
}

func (l drawing) tiff(w io.Writer) error {
	var grounds []*assess.Ground
	words := []string{report.Title(l.result) + ", " + report.StatisticOf(l.result)}
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
		Description: strings.Join(words, "; "), Values: r.Values,
	})
}

// kmz shows every field's surface on one scale.
func (l drawing) kmz(w io.Writer) error {
	o := geofile.Overlays{Name: "Surface: " + report.Title(l.result), Description: strings.Join(report.Cautions(), "\n")}
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
	legend, err := s.Legend(report.Title(l.result)+", "+report.StatisticOf(l.result), report.LevelsOf(l.result))
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
