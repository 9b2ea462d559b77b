package survey

import (
	"fmt"
	"regexp"
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
// description and name, in this order: after a word that a column could be
// called by ("count 12, leaves 10"), before one ("12 aphids"), or, but for the
// name, as the number that is all there is.
func featureTable(c geofile.Collection, name string) table {
	t := table{File: name, Header: []string{colLongitude.String(), colLatitude.String()}}
	for _, note := range c.Notes {
		t.Notes = append(t.Notes, name+": "+note)
	}
	properties := propertyNames(c.Features)
	words, filled := wordsColumn(properties, c.Features)
	t.Header = append(append(t.Header, properties...), filled...)
	if words != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s read from the words of %q", name, strings.Join(filled, " and "), words))
	}
	for i, f := range c.Features {
		line := f.Line
		if line == 0 {
			line = i + 1
		}
		p, ok := pointIn(f.Geometry)
		if !ok {
			t.Broken = append(t.Broken, Problem{File: name, Line: line}.refuse("the feature is no point", "give the stops as points"))
			continue
		}
		cells := []string{degreesText(p[0]), degreesText(p[1])}
		for _, property := range properties {
			cells = append(cells, cellOf(f, property))
		}
		if words != "" {
			cells = append(cells, readWords(cellOf(f, words), words)[:len(filled)]...)
		}
		t.Rows = append(t.Rows, row{Line: line, Cells: cells})
	}
	return t
}

// propertyNames lists the properties in order of first appearance, those apart
// that would stand for the position a second time.
func propertyNames(features []geo.Feature) []string {
	var names []string
	seen := map[string]bool{}
	for _, f := range features {
		for _, p := range f.Properties {
			meaning, known := meanings[same(p.Name)]
			if seen[p.Name] || known && (meaning == colLongitude || meaning == colLatitude) {
				continue
			}
			seen[p.Name] = true
			names = append(names, p.Name)
		}
	}
	return names
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
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	default:
		return fmt.Sprint(v)
	}
}

// wordsColumn is the property to read counts from, and the columns that its words
// fill, where no property is a count itself.
func wordsColumn(properties []string, features []geo.Feature) (words string, filled []string) {
	for _, p := range properties {
		if c, known := meanings[same(p)]; known && slices.Contains([]column{colCount, colMean, colGroups, colInfested}, c) {
			return "", nil
		}
	}
	for _, want := range []string{"cmt", "comment", "notes", "desc", "description", "name"} {
		for _, p := range properties {
			if same(p) != want {
				continue
			}
			var count, leaves bool
			for _, f := range features {
				found := readWords(cellOf(f, p), p)
				count, leaves = count || found[0] != "", leaves || found[1] != ""
			}
			switch {
			case count && leaves:
				return p, []string{colCount.String(), colLeaves.String()}
			case count:
				return p, []string{colCount.String()}
			}
		}
	}
	return "", nil
}

var (
	wordThenNumber = regexp.MustCompile(`(?i)([a-z][a-z_]*)\s*[:=]?\s*(\d+(?:\.\d+)?)`)
	numberThenWord = regexp.MustCompile(`(?i)(\d+(?:\.\d+)?)\s*([a-z][a-z_]*)`)
	numberAlone    = regexp.MustCompile(`^\s*\d+(?:\.\d+)?\s*$`)
)

// readWords finds count and leaves, in this order, in the words of a property; a
// number alone is a count unless it may be the name of the stop.
func readWords(text, property string) []string {
	found := map[column]string{}
	take := func(word, number string) {
		if c, known := meanings[same(word)]; known && found[c] == "" {
			found[c] = number
		}
	}
	for _, m := range wordThenNumber.FindAllStringSubmatch(text, -1) {
		take(m[1], m[2])
	}
	if found[colCount] == "" {
		for _, m := range numberThenWord.FindAllStringSubmatch(text, -1) {
			take(m[2], m[1])
		}
	}
	if found[colCount] == "" && same(property) != "name" && numberAlone.MatchString(text) {
		found[colCount] = strings.TrimSpace(text)
	}
	return []string{found[colCount], found[colLeaves]}
}
