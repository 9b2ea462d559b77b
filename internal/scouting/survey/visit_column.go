package survey

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Words of headers of which visit a row is. A week is of some days; a round, pass or visit may
// as well be a part of one walk. Common practice, no source.
var (
	weekInHeader  = wordSet("week wk semana sem woche")
	visitInHeader = wordSet("visit round pass visita ronda pasada recorrido vuelta besuch runde")
	whichInHeader = wordSet("n no nr nbr num number of the # nº núm numero número de la")
)

// A VisitColumn is a column that tells which visit each row is of, where days do not.
type VisitColumn struct {
	File, Column string
	Week         bool // it tells of weeks

	of      map[int]string // by line, as it is told from others
	written map[string]string
}

// mostVisits are in a table; a column of more values tells of something else.
const mostVisits = 60

// visitColumnOf looks for such a column in a table whose records do not all tell their day.
func visitColumnOf(t table, l *layout, records []Record) (v VisitColumn, found bool) {
	at := -1
	for i, h := range t.Header {
		if slices.Contains(l.at[:], i) {
			continue
		}
		if visit, week := ofVisits(h); visit && at < 0 || week && !v.Week {
			at, v = i, VisitColumn{File: t.File, Column: strings.TrimSpace(h), Week: week, of: map[int]string{}, written: map[string]string{}}
		}
	}
	undated := func(r Record) bool { return r.Date == "" && !r.Sum }
	if at < 0 || !slices.ContainsFunc(records, undated) {
		return v, false
	}
	for _, r := range t.Rows {
		if at >= len(r.Cells) {
			continue
		}
		written := strings.TrimSpace(r.Cells[at])
		if written == "" {
			continue
		}
		value, ok := visitValue(written)
		if !ok {
			return v, false
		}
		v.of[r.Line] = value
		if v.written[value] == "" {
			v.written[value] = written
		}
		if len(v.written) > mostVisits {
			return v, false
		}
	}
	return v, len(v.written) > 1
}

// visitValue is a week, round or visit as it is told from others: W29, w29, 29 and 29.0 are one.
// A number with decimals, such as a standard error (SEM), is none.
func visitValue(written string) (value string, ok bool) {
	value = strings.ToLower(written)
	number := strings.TrimLeft(value, "abcdefghijklmnopqrstuvwxyz #.-_")
	if word := strings.Trim(value[:len(value)-len(number)], " #.-_"); word != "" && !weekInHeader()[word] && word != "w" {
		return value, true
	}
	n, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil {
		return value, true
	}
	return strconv.FormatFloat(n, 'f', -1, 64), n == math.Trunc(n)
}

// In are the values of some stops, in the order of their rows, and how many of these stops are
// there under two values or more, by name and place.
func (v VisitColumn) In(stops []Stop) (values []string, again int) {
	type place struct {
		name     string
		lon, lat float64 // thousandths of a degree, some 100 m
	}
	first, twice, seen := map[place]string{}, map[place]bool{}, map[string]bool{}
	for _, s := range stops {
		at := place{s.Name, math.Round(1000 * s.Longitude), math.Round(1000 * s.Latitude)}
		for i := range s.Records {
			r := &s.Records[i]
			value := v.of[r.Line]
			if r.File != v.File || value == "" {
				continue
			}
			if !seen[value] {
				seen[value], values = true, append(values, v.written[value])
			}
			if before, there := first[at]; !there {
				first[at] = value
			} else if before != value {
				twice[at] = true
			}
		}
	}
	return values, len(twice)
}

// ofVisits reports whether a header is of visits, and whether of weeks.
func ofVisits(header string) (visit, week bool) {
	for _, w := range strings.FieldsFunc(strings.ToLower(header), func(r rune) bool { return strings.ContainsRune(" _-./:()", r) }) {
		switch {
		case weekInHeader()[w]:
			visit, week = true, true
		case visitInHeader()[w]:
			visit = true
		case !whichInHeader()[w]:
			return false, false
		}
	}
	return visit, week
}
