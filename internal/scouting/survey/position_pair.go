//go:build !small

package survey

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A pairOrder says which of two angles in one cell is the latitude.
type pairOrder uint8

const (
	noOrder pairOrder = iota
	latitudeFirst
	longitudeFirst
)

// Names of columns that say in which order both angles of a position stand.
const (
	latitudeThenLongitude = "latitude_longitude"
	longitudeThenLatitude = "longitude_latitude"
)

// Words of headers over both angles of a position, and what may stand beside them, in small
// letters without accents. Common practice, no source.
var (
	pairWords       = wordSet("position positions place location gps coordinate coordinates coord coords posicion lugar ubicacion coordenada coordenadas")
	latitudeWords   = wordSet("lat latitude latitud")
	longitudeWords  = wordSet("lon long lng longitude longitud")
	latitudeFirsts  = wordSet("latlon latlong latlng")
	longitudeFirsts = wordSet("lonlat longlat lnglat")
	besidePair      = wordSet("and y of de del the la el stop point punto deg degrees grados decimal decimales dd wgs wgs84 84")
)

// headsPair reports whether a header may be that of both angles of a position, and which of them
// it says comes first.
func headsPair(header string) (order pairOrder, is bool) {
	first := noOrder // axis that was named alone yet
	for _, w := range headerWords(header) {
		switch w = plainWord(w); {
		case latitudeFirsts()[w], first == latitudeFirst && longitudeWords()[w]:
			order, is = latitudeFirst, true
		case longitudeFirsts()[w], first == longitudeFirst && latitudeWords()[w]:
			order, is = longitudeFirst, true
		case latitudeWords()[w]:
			first = latitudeFirst
		case longitudeWords()[w]:
			first = longitudeFirst
		case pairWords()[w]:
			is = true
		case !besidePair()[w]:
			return noOrder, false
		}
	}
	return order, is && (first == noOrder || order != noOrder)
}

// likeliest is the row above all others that looks most like a header with both angles of a position
// in one column, where none names them apart, since a title may name a place, a day and an observer
// too; the first where none does.
func (t *table) likeliest(knows knower) (at int) {
	most := 0
	for i, r := range t.above {
		n := knows.namesPair(r.Cells)
		if n > 0 && i+1 < len(t.above) && pairBelow(r.Cells, t.above[i+1].Cells) {
			n++
		}
		if n > most {
			at, most = i, n
		}
	}
	return at
}

// pairBelow reports whether the row below a header has two angles under a name for both.
func pairBelow(header, below []string) bool {
	for i, cell := range below[:min(len(below), len(header))] {
		if _, is := headsPair(header[i]); is {
			if _, both := anglePairOf(cell); both {
				return true
			}
		}
	}
	return false
}

// namesPair is 0 unless cells may be a header that names both angles of a position in one, and two
// more columns; else the more the likelier they are one: it names stops, and what was found.
func (knows knower) namesPair(cells []string) (n int) {
	known, pair := map[column]bool{}, false
	for _, cell := range cells {
		if c, is := knows(cell); is {
			known[c] = true
		} else if _, is := headsPair(cell); is {
			pair = true
		}
	}
	if !pair || len(known) < 2 {
		return 0
	}
	n = 1
	if known[colStop] {
		n++
	}
	if slices.ContainsFunc(found[:], func(c column) bool { return known[c] }) {
		n++
	}
	return n
}

// An anglePair is two angles that stand in one cell, in their order.
type anglePair struct {
	text  [2]string
	value [2]float64
	order pairOrder // by the letters of hemispheres
}

// anglePairOf cuts a cell such as "27.1234, -97.5678", "27.1234N 97.5678W" or "27,1234; -97,5678".
// What may be one number is none: 27,97.
func anglePairOf(cell string) (p anglePair, is bool) {
	text := strings.TrimSpace(strings.Trim(strings.TrimSpace(cell), "()[]"))
	if p.text[0], p.text[1], is = cutAtHemisphere(text); !is {
		p.text[0], p.text[1], is = cutAtSign(text)
	}
	if !is {
		return anglePair{}, false
	}
	for i := range p.text {
		p.text[i] = strings.Trim(p.text[i], " ,;/")
		value, axis, ok := oneAngle(p.text[i])
		if i == 1 && axis != noOrder {
			axis = latitudeFirst + longitudeFirst - axis
		}
		if !ok || axis != noOrder && p.order != noOrder && axis != p.order { // of one axis both
			return anglePair{}, false
		}
		p.value[i], p.order = value, cmp.Or(p.order, axis)
	}
	return p, true
}

// oneAngle reads an angle of either axis; axis is the order that it gives as it is the first.
func oneAngle(text string) (value float64, axis pairOrder, ok bool) {
	d := decimals{comma: strings.Contains(text, ",")}
	d.marks.comma = d.comma
	value, _, err := d.parseAngle(text, "NS")
	if errors.Is(err, errAxis) {
		value, _, err = d.parseAngle(text, "EW")
		return value, longitudeFirst, err == nil
	}
	if strings.ContainsAny(text, "NSns") {
		axis = latitudeFirst
	}
	return value, axis, err == nil
}

// cutAtHemisphere cuts between two angles that each have their letter before or behind them.
func cutAtHemisphere(text string) (first, second string, is bool) {
	const letters = "NSEWnsew"
	a, b := strings.IndexAny(text, letters), strings.LastIndexAny(text, letters)
	switch {
	case a < 0 || a == b:
		return "", "", false
	case a > 0:
		b = a + 1
	}
	return text[:b], text[b:], true
}

// cutAtSign cuts at the sign or blank between two angles, where it can be no part of a number.
func cutAtSign(text string) (first, second string, is bool) {
	for _, sign := range [...]string{";", "/", "|"} {
		if strings.Count(text, sign) == 1 {
			return strings.Cut(text, sign)
		}
	}
	point, words := strings.Contains(text, "."), strings.Fields(text)
	apart := func(sign string) bool {
		return len(words) == 2 && strings.Count(words[0], sign) == 1 && strings.Count(words[1], sign) == 1
	}
	switch commas := strings.Count(text, ","); {
	case commas == 1 && point:
		return strings.Cut(text, ",")
	case commas == 3 && !point && strings.Count(text, ", ") == 1:
		return strings.Cut(text, ", ")
	case commas == 0 && apart("."), commas == 2 && !point && apart(","):
		return words[0], words[1], true
	}
	return "", "", false
}

// partPairs gives a table the columns latitude and longitude in place of one that holds both in
// each cell, where nothing else tells positions; which is which must be told by the header, by
// letters, or by where they can lie. A cell that holds no two angles stands in both.
func (t *table) partPairs(opts Options) error {
	i, order := t.pairColumn(opts.knows)
	if i < 0 {
		return nil
	}
	header := strings.TrimSpace(t.Header[i])
	all := t.pairsIn(i)
	order, why, err := t.orderOf(header, all, order, opts.FixPosition)
	if err != nil {
		return err
	}
	names := [2]string{colLatitude.String(), colLongitude.String()}
	if order == longitudeFirst {
		slices.Reverse(names[:])
	}
	t.Header = slices.Insert(slices.Clone(t.Header), i, names[0])
	t.Header[i+1] = names[1]
	t.parted = parted{i + 1, header, make(map[int]string, len(t.Rows))}
	t.shiftFrom(i)
	for k, r := range t.Rows {
		if i >= len(r.Cells) {
			continue
		}
		t.parted.cells[r.Line] = r.Cells[i]
		text := [2]string{r.Cells[i], r.Cells[i]}
		if p, is := all[r.Line]; is {
			text = p.in(order, t.DecimalComma)
		}
		t.Rows[k].Cells = slices.Insert(slices.Clone(r.Cells), i, text[0])
		t.Rows[k].Cells[i+1] = text[1]
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s: column %s holds both angles of a place, read as %s, %s, %s", t.File, quote(header), names[0], names[1], why))
	return nil
}

// pairColumn is the one column whose header may be of both angles and most of whose filled cells
// hold two; -1 for none, and where others tell the positions.
func (t *table) pairColumn(knows knower) (at int, order pairOrder) {
	at = -1
	if t.Points != "" {
		return at, order
	}
	for i, h := range t.Header {
		if c, known := knows(h); known {
			if slices.Contains(whereabouts[:], c) {
				return -1, noOrder
			}
			continue
		}
		told, is := headsPair(h)
		if !is || !t.holdsPairs(i) {
			continue
		}
		if at >= 0 {
			return -1, noOrder
		}
		at, order = i, told
	}
	return at, order
}

func (t *table) holdsPairs(i int) bool {
	filled := 0
	for _, r := range t.Rows {
		if i < len(r.Cells) && strings.TrimSpace(r.Cells[i]) != "" {
			filled++
		}
	}
	pairs := len(t.pairsIn(i))
	return pairs > 0 && 2*pairs >= filled
}

// pairsIn are the pairs of a column by the lines of their rows.
func (t *table) pairsIn(i int) map[int]anglePair {
	all := map[int]anglePair{}
	for _, r := range t.Rows {
		if i < len(r.Cells) {
			if p, is := anglePairOf(r.Cells[i]); is {
				all[r.Line] = p
			}
		}
	}
	return all
}

// orderOf says in what order the pairs of a column stand, and what tells it. Letters tell it of
// their row whatever the header says.
func (t *table) orderOf(header string, all map[int]anglePair, told pairOrder, fix FixPosition) (order pairOrder, why string, err error) {
	if told != noOrder {
		return told, "as the header says", nil
	}
	lettered, fits, reaches := 0, map[pairOrder]int{}, map[pairOrder]int{}
	for _, p := range all {
		if p.order != noOrder {
			lettered++
			continue
		}
		fits[p.onlyIn(fix)]++
		reaches[p.onlyReaches()]++
	}
	byField, one := oneOrder(fits)
	byReach, alike := oneOrder(reaches)
	switch {
	case lettered == len(all):
		return latitudeFirst, "as the compass letters say", nil
	case one && alike && byField != noOrder && (byReach == noOrder || byReach == byField):
		return byField, "as only so they lie at the fields", nil
	case one && alike && byReach != noOrder && byField == noOrder:
		return byReach, "as latitudes go to 90", nil
	}
	which := "nothing tells which of the two is the latitude"
	if !one || !alike || byField != noOrder {
		which = "its rows tell latitude and longitude in both orders"
	}
	return noOrder, "", &geofile.Error{File: t.File, Msg: fmt.Sprintf("column %s holds both angles of a place, and %s", quote(header), which),
		Hint: fmt.Sprintf("name it %s or %s, in the file or with --map", latitudeThenLongitude, longitudeThenLatitude)}
}

// oneOrder is the order that some rows tell, none where none does; one is false where rows differ.
func oneOrder(rows map[pairOrder]int) (order pairOrder, one bool) {
	switch latitude, longitude := rows[latitudeFirst], rows[longitudeFirst]; {
	case latitude > 0 && longitude > 0:
		return noOrder, false
	case latitude > 0:
		return latitudeFirst, true
	case longitude > 0:
		return longitudeFirst, true
	}
	return noOrder, true
}

// onlyIn is the order in which the pair lies at a field, where it does in one alone.
func (p anglePair) onlyIn(fix FixPosition) pairOrder {
	if fix == nil {
		return noOrder
	}
	swapped := func(lon, lat float64) bool { // then it lies at one, and as it stands it does not
		offer, ok := fix(lon, lat)
		return ok && lon != lat && offer.Longitude == lat && offer.Latitude == lon
	}
	switch {
	case swapped(p.value[0], p.value[1]):
		return latitudeFirst
	case swapped(p.value[1], p.value[0]):
		return longitudeFirst
	}
	return noOrder
}

// onlyReaches is the order in which the pair can be a place on Earth, where it can in one alone.
func (p anglePair) onlyReaches() pairOrder {
	const most, mostLatitude = 180, 90 // degrees
	a, b := math.Abs(p.value[0]), math.Abs(p.value[1])
	switch {
	case a <= mostLatitude && b > mostLatitude && b <= most:
		return latitudeFirst
	case b <= mostLatitude && a > mostLatitude && a <= most:
		return longitudeFirst
	}
	return noOrder
}

// in are the texts of the pair in an order, its own where letters tell it; with points where no
// comma may stand in a number of the table.
func (p anglePair) in(order pairOrder, commas bool) [2]string {
	text := p.text
	if p.order != noOrder && p.order != order {
		slices.Reverse(text[:])
	}
	if !commas {
		for i := range text {
			text[i] = strings.Replace(text[i], ",", ".", 1)
		}
	}
	return text
}

// shiftFrom moves what is remembered of cells behind a column by one, as a column comes in there.
func (t *table) shiftFrom(column int) {
	if t.typed == nil {
		return
	}
	typed, strange := map[cellAt]bool{}, map[cellAt]odd{}
	to := func(at cellAt) cellAt {
		if at.column > column {
			at.column++
		}
		return at
	}
	for at, is := range t.typed {
		typed[to(at)] = is
	}
	for at, what := range t.odd {
		strange[to(at)] = what
	}
	for _, r := range t.Rows { // both are texts
		typed[cellAt{r.Line, column}], typed[cellAt{r.Line, column + 1}] = true, true
	}
	t.typed, t.odd = typed, strange
}
