//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// A filling says which property counts are read from, and what else it tells.
type filling struct {
	property       string // "" for none
	bare           bool   // leaves are of whatever counts are asked for of: no stop says of what
	leaves, plants bool   // that some stops tell so many of; bare numbers are of leaves unless all are of plants
	day            string // that may be meant by the same words at every stop
}

// wordsColumn is the property to read counts from, where no property is a count
// itself; the zero filling is none.
func wordsColumn(properties []string, features []geo.Feature) filling {
	for _, p := range properties {
		if c, known := (*meanings())[same(p)]; known && slices.Contains([]column{colCount, colMean, colGroups, colOver, colInfested}, c) {
			return filling{}
		}
	}
	for _, want := range wordProperties {
		for _, p := range properties {
			if same(p) != want {
				continue
			}
			if f, speaks := fillingOf(p, features); speaks {
				return f
			}
		}
	}
	return filling{}
}

// fillingOf says what a property tells of counts; speaks is false for nothing.
func fillingOf(property string, features []geo.Feature) (f filling, speaks bool) {
	f = filling{property: property}
	var leaves, plants, units bool
	days := oneDay{}
	for _, feature := range features {
		text := cellOf(feature, property)
		found := readWords(text, property)
		speaks = speaks || found.count != "" || found.unclear != "" && found.unclear != nobodyCounted
		leaves, plants, units = leaves || found.leaves != "", plants || found.plants != "", units || found.units != ""
		days.look(text)
	}
	f.day, f.leaves, f.plants = days.text(), leaves || units && !plants, plants
	f.bare = units && !leaves && !plants
	return f, speaks
}

// headers are the names of the columns that the words fill. A column of plants is
// called so, as in tables: what it is worth depends on what is counted.
func (f filling) headers() []string {
	if f.property == "" {
		return nil
	}
	names := []string{colCount.String()}
	if f.leaves {
		names = append(names, colLeaves.String())
	}
	if f.plants {
		names = append(names, "plants")
	}
	return names
}

// cells are what the words of a feature put into the columns, or what is wrong with
// them.
func (f filling) cells(text string) (cells []string, wrong string) {
	found := readWords(text, f.property)
	switch {
	case found.unclear != "":
		return nil, found.unclear
	case found.count == "":
		return nil, "gives no count"
	case f.day != "":
		return nil, fmt.Sprintf("is %s at every stop: a count, or a day?", f.day)
	case (f.leaves || f.plants) && found.leaves == "" && found.plants == "" && found.units == "":
		return nil, "gives a count, but not on how many " + f.headers()[1]
	case f.leaves && !f.plants && found.leaves == "" && found.units == "":
		return nil, "gives plants, where others give leaves"
	}
	cells = []string{found.count}
	if f.leaves {
		cells = append(cells, first(found.leaves, found.units))
	} else {
		found.plants = first(found.plants, found.units)
	}
	if f.plants {
		cells = append(cells, found.plants)
	}
	return cells, ""
}

// oneDay looks for words that are the same two numbers at every stop and may mean
// its day, as "7/15" does.
type oneDay struct {
	first   string
	several bool
	n       int
}

var dayText = pattern(`^\s*(\d\d?)\s*/\s*(\d\d?)\s*$`)

func (d *oneDay) look(text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	d.n++
	if d.n == 1 {
		d.first = strings.TrimSpace(text)
	}
	d.several = d.several || strings.TrimSpace(text) != d.first
}

// text is the day, "" where it is none.
func (d *oneDay) text() string {
	m := dayText().FindStringSubmatch(d.first)
	if m == nil || d.several || d.n < 2 {
		return ""
	}
	a, b := small(m[1]), small(m[2])
	if min(a, b) < 1 || min(a, b) > 12 || max(a, b) > 31 {
		return ""
	}
	return d.first
}
