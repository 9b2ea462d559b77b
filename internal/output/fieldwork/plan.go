package fieldwork

import (
	"encoding/csv"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/files/spreadsheet"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/plan"
)

// Plan renders a plan of stops.
type Plan struct {
	plan.Plan
	Leaves int    // to be counted at a stop; 10 where 0
	Pest   string // put into the table
	Why    string // why so many stops; "" where the number was given
	// Needs are what the table and the sheet are to hold so that a rule is fed; nil
	// for count and leaves.
	Needs *rules.Needs
	Said  figures.Units // the language of screen and sheet
}

func (p Plan) leaves() int {
	if p.Leaves == 0 {
		return 10
	}
	return p.Leaves
}

// Text is what the screen says.
func (p Plan) Text() string {
	var b strings.Builder
	b.WriteString(p.head())
	if p.Why != "" {
		fmt.Fprintf(&b, "  %s\n", p.Why)
	}
	for _, line := range p.ruled() {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	b.WriteString(p.Said.Say("  on average a place in the field lies %s from the nearest stop\n", p.Said.Estimate(p.Reach)))
	b.WriteString(p.Said.Say("  the walk: %s km (%s mi) in a straight line%s. It takes about %s, with %s min at a stop.\n",
		figures.Trimmed(p.Distance/1000, 2), figures.Trimmed(p.Distance/geo.MetresPerMile, 2), p.around(), hours(p.Minutes), figures.Short(p.Settings.Minutes)))
	if p.OffField > 0 {
		b.WriteString(p.Said.Say("  legs that leave the field or cross ground to be kept off: %d; the true way is longer\n", p.OffField))
	}
	return b.String()
}

// head says how many stops of which kind.
func (p Plan) head() string {
	edge, gain := 0, 0.0
	for _, s := range p.Stops {
		if s.Edge {
			edge++
		}
		gain += s.Gain
	}
	inside := p.Said.Say("at least %s m (%s ft) inside the edge", figures.Short(p.Settings.Inside), figures.Short(p.Settings.Inside/geo.MetresPerFoot))
	switch {
	case gain > 0:
		return p.Said.Say("%s: %d further stops %s, expected to bring %s ha (%s ac) to the right zone\n", p.Field.Name, len(p.Stops), inside,
			figures.Trimmed(gain/geo.SquareMetresPerHectare, 2), figures.Trimmed(gain/geo.SquareMetresPerAcre, 2))
	case edge > 0:
		return p.Said.Say("%s: %d stops %s, %d more along it. Do not average E1 to E%d with the others.\n", p.Field.Name, len(p.Stops)-edge, inside, edge, edge)
	}
	return p.Said.Say("%s: %d stops %s\n", p.Field.Name, len(p.Stops), inside)
}

func (p Plan) around() string {
	switch {
	case p.Settings.OneWay:
		return p.Said.Text(", one way")
	case p.Settings.Start != nil:
		return p.Said.Text(" and back to the start")
	}
	return p.Said.Text(", there and back to the first stop")
}

func hours(minutes float64) string { return figures.Duration(60 * math.Round(minutes)) }

func description(s plan.Stop) string {
	switch {
	case s.Edge:
		return "along the edge: not to be averaged with the others"
	case s.Gain > 0:
		return fmt.Sprintf("expected to bring %.0f m² to the right zone", s.Gain)
	}
	return ""
}

// Route is the plan as GPX holds it.
func (p Plan) Route() geofile.Route {
	r := geofile.Route{Name: p.Said.Say("%s: stops", p.Field.Name), Description: strings.TrimSpace(strings.ReplaceAll(p.Text(), "\n", ". "))}
	for _, s := range p.Stops {
		r.Points = append(r.Points, geofile.Placemark{Name: s.Name, Description: description(s), Geometry: s.Lonlat})
	}
	r.Outlines = []geofile.Placemark{{Name: p.Field.Name, Geometry: p.Field.Boundary}}
	return r
}

// Document is the plan as KML holds it.
func (p Plan) Document() geofile.Document {
	black, white := color.NRGBA{A: 255}, color.NRGBA{R: 255, G: 255, B: 255, A: 255}
	orange := color.NRGBA{R: 0xE6, G: 0x9F, A: 255} // Okabe & Ito 2008
	d := geofile.Document{Name: p.Said.Say("%s: stops", p.Field.Name), Description: p.Text(), Styles: []geofile.Style{
		{ID: "field", Line: black, Width: 2},
		{ID: "walk", Line: white, Width: 2},
		{ID: "stop", Icon: white, Scale: 1, Line: black, Width: 1},
		{ID: "edge", Icon: orange, Scale: 1, Line: black, Width: 1},
	}}
	stops := geofile.Folder{Name: p.Said.Text("stops")}
	for _, s := range p.Stops {
		style := "stop"
		if s.Edge {
			style = "edge"
		}
		stops.Placemarks = append(stops.Placemarks, geofile.Placemark{Name: s.Name, Description: description(s), Style: style, Geometry: s.Lonlat})
	}
	lines := geofile.Folder{Name: p.Said.Text("field and walk"), Placemarks: []geofile.Placemark{{Name: p.Field.Name, Style: "field", Geometry: p.Field.Boundary}}}
	if way := p.way(); len(way) > 1 {
		lines.Placemarks = append(lines.Placemarks, geofile.Placemark{Name: p.Said.Text("walk"), Style: "walk", Geometry: way})
	}
	d.Folders = []geofile.Folder{lines, stops}
	return d
}

// way is the walk in degrees.
func (p Plan) way() (way orb.LineString) {
	if p.Settings.Start != nil {
		way = append(way, *p.Settings.Start)
	}
	for _, s := range p.Stops {
		way = append(way, s.Lonlat)
	}
	if !p.Settings.OneWay && len(way) > 1 {
		way = append(way, way[0])
	}
	return way
}

// Features are the stops and the walk, for GeoJSON.
func (p Plan) Features() (features []geo.Feature) {
	for i, s := range p.Stops {
		features = append(features, geo.Feature{Geometry: s.Lonlat, Properties: geo.Properties{
			{Name: "stop", Value: s.Name}, {Name: "order", Value: int64(i + 1)}, {Name: "field", Value: p.Field.Name},
			{Name: "edge", Value: s.Edge}, {Name: "leg_m", Value: math.Round(s.Leg*10) / 10},
		}})
		if h := p.Settings.Heading; h != nil {
			last := &features[len(features)-1].Properties
			*last = append(*last, geo.Property{Name: "rows", Value: *h})
		}
		if s.Gain > 0 {
			last := &features[len(features)-1].Properties
			*last = append(*last, geo.Property{Name: "gain_m2", Value: math.Round(s.Gain)})
		}
	}
	if way := p.way(); len(way) > 1 {
		features = append(features, geo.Feature{Geometry: way, Properties: geo.Properties{
			{Name: "walk", Value: p.Field.Name}, {Name: "length_m", Value: math.Round(p.Distance)}, {Name: "minutes", Value: math.Round(p.Minutes)},
		}})
	}
	return features
}

// WriteTable writes the table to be filled in: the map command reads it back. The
// count is left blank, since a blank is not a zero.
func (p Plan) WriteTable(w io.Writer) error {
	columns, each, stage := p.columns()
	header := []string{"stop", "longitude", "latitude"}
	var filled []string
	for _, c := range columns {
		header, filled = append(header, c.Header), append(filled, c.Filled)
	}
	rows := [][]string{append(header, "date", "time", "observer", "pest", "stage", "kind", "notes")}
	for _, s := range p.Stops {
		note, kind := "", "planned"
		if s.Extra {
			kind = "extra"
		}
		if s.Edge {
			note = "edge"
		}
		row := []string{s.Name, strconv.FormatFloat(s.Lonlat[0], 'f', 7, 64), strconv.FormatFloat(s.Lonlat[1], 'f', 7, 64)}
		row = append(append(row, filled...), "", "", "", p.Pest, stage, kind, note)
		for range each {
			rows = append(rows, spreadsheet.Row(row...))
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}
