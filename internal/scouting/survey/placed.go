//go:build !small

package survey

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo/geofile"
)

// counts reports whether cells are a header of counts that tell no position: they name
// counts, and stops or times.
func (knows knower) counts(cells []string) bool {
	found := map[column]bool{}
	for _, cell := range cells {
		if c, known := knows(cell); known {
			found[c] = true
		}
	}
	return (found[colStop] || found[colTime]) && (found[colCount] || found[colMean] || found[colGroups] || found[colInfested] || found[colOver])
}

// place gives the rows of a table without positions those of places, and notes what stands
// on one side alone. A table with positions stays as it is.
func (t *table) place(p *Places, taken taken, knows knower) error {
	var at [columns]int
	for c := range at {
		at[c] = -1
	}
	for i, h := range t.Header {
		if c, known := knows(h); known && at[c] < 0 {
			at[c] = i
		}
	}
	position := []column{colLongitude, colLatitude, colEasting, colNorthing, colWKT}
	if t.pairsPlace(knows) || t.fills(position, at) {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: tells its positions, so %s is not used for it", t.File, p.File))
		return nil
	}
	j := joining{p: p, file: t.File, at: at, field: fieldColumn(t.Header), taken: taken, used: map[string]bool{}, missing: map[string]string{}, stood: map[string]orb.Point{}}
	for _, c := range position { // blank all the way down, as in a table to be filled in
		if at[c] >= 0 {
			t.Header = slices.Clone(t.Header)
			t.Header[at[c]] = ""
		}
	}
	width := len(t.Header)
	t.Header = append(slices.Clone(t.Header), colLongitude.String(), colLatitude.String())
	for i := range t.Rows {
		row := &t.Rows[i]
		cells := append(slices.Clone(row.Cells[:min(width, len(row.Cells))]), make([]string, max(0, width-len(row.Cells)))...)
		lonlat, ok, err := j.row(*row)
		if errors.As(err, new(*geofile.Error)) { // tells where
			return err
		}
		if err != nil {
			return fmt.Errorf("%s:%d: %w", t.File, row.Line, err)
		}
		placed := []string{"", ""}
		if ok {
			placed = []string{degreesText(rounded(lonlat[0])), degreesText(rounded(lonlat[1]))}
		}
		row.Cells = append(cells, placed...)
	}
	return j.say(t)
}

// fills reports whether any row has something in one of some columns.
func (t *table) fills(of []column, at [columns]int) bool {
	return slices.ContainsFunc(t.Rows, func(r row) bool {
		return slices.ContainsFunc(of, func(c column) bool {
			return at[c] >= 0 && at[c] < len(r.Cells) && strings.TrimSpace(r.Cells[at[c]]) != ""
		})
	})
}

// rounded is a coordinate to a centimetre.
func rounded(v float64) float64 { return math.Round(v*1e7) / 1e7 }

// joining joins rows to places.
type joining struct {
	p              *Places
	file           string // of the table
	at             [columns]int
	field          int // column that names fields, -1 for none
	taken          taken
	byName, byTime int
	used           map[string]bool
	missing        map[string]string    // stop → why
	order          []string             // of missing
	rough          string               // first time without seconds that placed a row
	stood          map[string]orb.Point // stop and day → first place along the track
	spread         []string             // stops whose rows lie apart along it
}

func (j *joining) row(r row) (lonlat orb.Point, ok bool, err error) {
	cell := func(c column) string {
		if i := j.at[c]; i >= 0 && i < len(r.Cells) {
			return strings.TrimSpace(r.Cells[i])
		}
		return ""
	}
	name := cell(colStop)
	key := placeKey(name)
	if at, known := j.p.named[key]; known && name != "" {
		if j.p.twice[key] {
			return at, false, fmt.Errorf("%s has several places called %q: give them names of their own", j.p.File, name)
		}
		if err := j.take(key, name, r); err != nil {
			return at, false, err
		}
		j.byName++
		j.used[key] = true
		return at, true, nil
	}
	why := "no such name"
	if len(j.p.tracks) > 0 && cell(colTime) != "" {
		m, err := momentOf(cell(colDate), cell(colTime), j.p.Offset)
		if err != nil {
			return lonlat, false, err
		}
		if lonlat, why = j.p.between(m.at); why == "" {
			j.byTime++
			j.stand(name, m.at.Format(time.DateOnly), lonlat)
			if m.rough && j.rough == "" {
				j.rough = cell(colTime)
			}
			return lonlat, true, nil
		}
	}
	if name == "" {
		name = "line " + strconv.Itoa(r.Line)
	}
	if _, known := j.missing[name]; !known {
		j.missing[name] = why
		j.order = append(j.order, name)
	}
	return lonlat, false, nil
}

// stand remembers where a row of a stop lies along the track.
func (j *joining) stand(name, day string, at orb.Point) {
	key := day + " " + placeKey(name)
	first, known := j.stood[key]
	switch {
	case name == "":
	case !known:
		j.stood[key] = at
	case farthest([]orb.Point{first, at}) > apart && !slices.Contains(j.spread, quote(name)):
		j.spread = append(j.spread, quote(name))
	}
}

// say notes what was joined, and what was not on both sides. Where nothing was it is an
// error.
func (j *joining) say(t *table) error {
	var left, lack []string
	for _, name := range j.p.names {
		if !j.used[placeKey(name)] {
			left = append(left, quote(name))
		}
	}
	for _, name := range j.order {
		lack = append(lack, fmt.Sprintf("%s (%s)", name, j.missing[name]))
	}
	if j.byName+j.byTime == 0 && len(t.Rows) > 0 {
		text := fmt.Sprintf("no row has a place in %s: %s", j.p.File, Listed(lack))
		if len(left) > 0 {
			text += fmt.Sprintf("; the places are called %s", Listed(left))
		}
		return &geofile.Error{File: t.File, Msg: text, Hint: j.hint()}
	}
	note := fmt.Sprintf("%s: %d rows have their place from %s", t.File, j.byName+j.byTime, j.p.File)
	if j.byTime > 0 {
		note += fmt.Sprintf(", %d of them by the time along its track", j.byTime)
	}
	t.Notes = append(t.Notes, note)
	if j.rough != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: times without seconds, such as %q, count as the full minute: their places are good to a minute's walk", t.File, j.rough))
	}
	if len(j.spread) > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: rows of one stop lie more than %d m apart along the track, and count as several stops: %s", t.File, apart, Listed(j.spread)))
	}
	if len(lack) > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: without a place: %s", t.File, Listed(lack)))
	}
	if len(left) > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: places without a count: %s", j.p.File, Listed(left)))
	}
	return nil
}

// hint is what to do where no row has a place, "" where it is not known.
func (j *joining) hint() string {
	for _, name := range j.order {
		if strings.HasPrefix(j.missing[name], severalTracks) {
			return fmt.Sprintf("keep in %s only the tracks of the one who counted", j.p.File)
		}
	}
	return ""
}
