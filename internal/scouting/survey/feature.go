//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// featureTable takes the points of a feature file for rows: properties are
// cells, the geometry is the position. What is no point is set aside by name.
//
// Where no property is a count, it is looked for in the words of comment,
// description and name, in this order, as [readWords] says.
//
// size is that of the file, unpacked, limits what its rows may take.
func featureTable(c geofile.Collection, name string, size int64, limits Limits) (table, error) {
	t := table{File: name, Points: pointsOf(c.Format), Header: []string{colLongitude.String(), colLatitude.String()}}
	for _, note := range c.Notes {
		t.Notes = append(t.Notes, name+": "+note)
	}
	if err := zonesOfAMap(name, c.Features); err != nil {
		return table{}, err
	}
	properties, err := propertyNames(c.Features, limits.Columns)
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t.outlines = outlinesAlone(c.Features)
	budget := newMemoryBudget(limits, size)
	words := wordsColumn(properties, c.Features)
	t.Header = append(append(t.Header, properties...), words.headers()...)
	t.bounds = ofMappedStops(t.Header)
	t.spoken, t.bareUnits = words.property, words.bare
	if words.property != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s read from the words of %q", name, strings.Join(words.headers(), " and "), words.property))
	}
	t.readTimes(c.Format)
	names, tellNone, told := stopNames{}, []wordless{}, 0
	for i, f := range c.Features {
		line := f.Line
		if line == 0 {
			line = i + 1
		}
		at, ok := pointIn(f.Geometry)
		if !ok {
			p := Problem{File: name, Line: line, Name: stopOf(f, properties)}.refuse("the feature is no point", "give the stops as points")
			t.Broken = append(t.Broken, p)
			if countsOn(f, properties) {
				t.Unread = append(t.Unread, noCells(p))
			}
			continue
		}
		if err := budget.feature(f, len(t.Header)); err != nil {
			return table{}, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		cells := append(make([]string, 0, len(t.Header)), degreesText(at[0]), degreesText(at[1]))
		for _, property := range properties {
			cells = append(cells, cellOf(f, property))
		}
		if words.property != "" {
			text := cellOf(f, words.property)
			found, wrong := words.cells(text)
			if wrong != "" {
				p := words.problem(name, line, f, properties).refuse(wrong, howToWrite)
				tellNone = append(tellNone, wordless{f, noWords(p, stopOf(f, properties), at[0], at[1])})
				continue
			}
			names[kindOf(stopOf(f, properties))] = true
			told = max(told, tellsOf(f, properties))
			cells = append(cells, found...)
		}
		t.Rows = append(t.Rows, row{Line: line, Cells: cells})
	}
	t.setAside(tellNone, names, told, properties)
	return t, nil
}

// wordless is a feature whose words do not tell a count.
type wordless struct {
	feature geo.Feature
	unread  Unread
}

// nameAndWords is how many properties a counted stop has at the least.
const nameAndWords = 2

// setAside parts the notes from the stops that were not read, and planned stops that were not
// walked: those with a name alone, where a counted one tells more than its name and words.
func (t *table) setAside(all []wordless, names stopNames, told int, properties []string) {
	var notes []string
	for _, w := range all {
		if called := names.noteOf(w.feature, properties); called != "" {
			notes = append(notes, called)
			continue
		}
		if told > nameAndWords && nameAlone(w.feature, properties) {
			t.Broken, t.planned = append(t.Broken, w.unread.Problem), append(t.planned, w.unread)
			continue
		}
		t.Broken, t.Unread = append(t.Broken, w.unread.Problem), append(t.Unread, w.unread)
	}
	t.sayNotes(notes)
}

// nameAlone reports a feature with a name that says nothing of a count, and nothing else.
func nameAlone(f geo.Feature, properties []string) bool {
	stop := stopOf(f, properties)
	return stop != "" && !speaksOfAmounts(stop) && tellsOf(f, properties) == 1
}

// tellsOf counts the properties that are filled.
func tellsOf(f geo.Feature, properties []string) (n int) {
	for _, p := range properties {
		if strings.TrimSpace(cellOf(f, p)) != "" {
			n++
		}
	}
	return n
}

// problem is one of the words of a feature.
func (f filling) problem(file string, line int, of geo.Feature, properties []string) Problem {
	p := Problem{File: file, Line: line, Column: f.property, Value: oneLine(cellOf(of, f.property))}
	if name := stopOf(of, properties); name != cellOf(of, f.property) {
		p.Name = name
	}
	return p
}

// pointsOf is what a format calls its points.
func pointsOf(format string) string {
	switch format {
	case "GPX":
		return "waypoints"
	case "KML", "KMZ":
		return "placemarks"
	}
	return "points"
}

// missing says what to write into a feature file without counts, or without names.
func (t table) missing(counts bool) error {
	if t.outlines {
		return t.noCounts()
	}
	switch {
	case len(t.Rows) == 0 && len(t.Notes) > 0: // such as a link alone
		return fmt.Errorf("%s, and it holds no %s: give the file that holds them", strings.Join(t.Notes, "; "), t.Points)
	case len(t.Rows) == 0:
		return fmt.Errorf("%s: holds no %s: mark each stop as one, with \"count 12, leaves 10\" in its comment or description", t.File, t.Points)
	}
	what := "have no names: name each, or give --unnamed-stops to take each as a stop"
	if counts {
		what = `give no count: write "count 12, leaves 10" into the comment or description of each`
		if t.Points == "points" {
			what += ", or give each a property count"
		}
	}
	has := "they have nothing but their places"
	if properties := t.Header[2:]; len(properties) > 0 {
		has = "they have " + Listed(quoted(properties))
	}
	return fmt.Errorf("%s: its %s %s; %s", t.File, t.Points, what, has)
}

// readTimes takes the time of a placemark for the time of its count, where no other
// property is one, and says what a format's standard says of times: those of GPX are
// in UTC (GPX 1.1), and those of KML where they say so (OGC 07-147r2).
func (t *table) readTimes(format string) {
	t.StrictUTC = format == "GPX" || format == "KML" || format == "KMZ"
	t.BareUTC = format == "GPX" && slices.Contains(t.Header, "time")
	if format == "GPX" || !t.StrictUTC || slices.ContainsFunc(t.Header, func(h string) bool { return (*meanings())[same(h)] == colTime }) {
		return
	}
	for _, time := range [...]string{"when", "begin"} {
		if i := slices.Index(t.Header, time); i >= 0 {
			t.Header[i] = colTime.String()
			return
		}
	}
}

// countsOn reports whether a feature has a property of counts that is filled.
func countsOn(f geo.Feature, properties []string) bool {
	return slices.ContainsFunc(properties, func(p string) bool {
		c, known := (*meanings())[same(p)]
		return known && (c == colCount || c == colMean) && strings.TrimSpace(cellOf(f, p)) != ""
	})
}

// stopOf is the name of the stop that a feature tells.
func stopOf(f geo.Feature, properties []string) string {
	for _, p := range properties {
		if c, known := (*meanings())[same(p)]; known && c == colStop {
			return strings.TrimSpace(cellOf(f, p))
		}
	}
	return ""
}

// propertyNames lists the properties in order of first appearance, those apart
// that would stand for the position a second time. More than most are an error.
func propertyNames(features []geo.Feature, most int) ([]string, error) {
	var names []string
	seen := map[string]bool{}
	for _, f := range features {
		for _, p := range f.Properties {
			meaning, known := (*meanings())[same(p.Name)]
			if seen[p.Name] || known && (meaning == colLongitude || meaning == colLatitude) {
				continue
			}
			if len(names) == most {
				return nil, fmt.Errorf("its features have more than %d properties by name: are these counts?", most)
			}
			seen[p.Name] = true
			names = append(names, p.Name)
		}
	}
	return names, nil
}

// feature accounts for the cells that a feature is to fill.
func (r *memoryBudget) feature(f geo.Feature, columns int) error {
	for _, p := range f.Properties {
		if text, is := p.Value.(string); is {
			if err := r.hold(len(text)); err != nil {
				return fmt.Errorf("%s: %w", quote(p.Name), err)
			}
		}
	}
	return r.take(nil, columns)
}

// pointIn is the position of a point, also of one alone in a collection.
func pointIn(g orb.Geometry) (orb.Point, bool) {
	switch g := g.(type) {
	case orb.Point:
		return g, true
	case orb.MultiPoint:
		if len(g) == 1 {
			return g[0], true
		}
	case orb.Collection:
		if len(g) == 1 {
			return pointIn(g[0])
		}
	}
	return orb.Point{}, false
}

func degreesText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// cellOf is a property as a person would write it; "" where there is none.
func cellOf(f geo.Feature, property string) string {
	switch v, _ := f.Properties.Get(property); v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	default:
		return fmt.Sprint(v)
	}
}
