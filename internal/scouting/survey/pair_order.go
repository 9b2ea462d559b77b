//go:build !small

package survey

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A pairVote is what rows tell of the order in which angles stand in a column.
type pairVote struct {
	rows    map[pairOrder]int
	line    map[pairOrder]int // first of them
	atField map[pairOrder]int // of them, those that tell it by the fields
	told    int               // rows that tell their own order
	worded  int               // of them, those that do so by words
}

// voteOf asks each pair: the fields first, then how far degrees go.
func (t *table) voteOf(all map[int]anglePair, fix FixPosition) pairVote {
	v := pairVote{rows: map[pairOrder]int{}, line: map[pairOrder]int{}, atField: map[pairOrder]int{}}
	for _, r := range t.Rows {
		p, is := all[r.Line]
		if !is {
			continue
		}
		if p.order != noOrder {
			v.told++
			if p.by == byWords {
				v.worded++
			}
			continue
		}
		order := p.onlyIn(fix)
		if order != noOrder {
			v.atField[order]++
		} else if order = p.onlyReaches(); order == noOrder {
			continue
		}
		if v.rows[order]++; v.rows[order] == 1 {
			v.line[order] = r.Line
		}
	}
	return v
}

// nearlyAll is the order that all rows tell which tell any, or nine of ten and at least five more
// than the other (our choice, no source); none else. few are the rows that tell the other.
func (v pairVote) nearlyAll() (order pairOrder, few int) {
	order, most, few := latitudeFirst, v.rows[latitudeFirst], v.rows[longitudeFirst]
	if few > most {
		order, most, few = longitudeFirst, few, most
	}
	if most == 0 || few > 0 && (10*most < 9*(most+few) || most-few < 5) {
		return noOrder, few
	}
	return order, few
}

// orderOf says in what order the pairs of a column stand, and what tells it. Letters and words in
// a cell tell it of their row whatever the header says.
func (t *table) orderOf(header string, all map[int]anglePair, told pairOrder, fix FixPosition) (order pairOrder, why string, err error) {
	if told != noOrder {
		return told, "as the header says", nil
	}
	v := t.voteOf(all, fix)
	order, few := v.nearlyAll()
	switch {
	case v.told == len(all) && v.worded == 0:
		return latitudeFirst, "as the compass letters say", nil
	case v.told == len(all):
		return latitudeFirst, "as its cells say", nil
	case order != noOrder && few > 0:
		return order, "as nearly all rows tell", nil
	case order != noOrder && v.atField[order] > 0:
		return order, "as only so they lie at the fields", nil
	case order != noOrder:
		return order, "as latitudes go to 90", nil
	}
	which := "nothing tells which of the two is the latitude"
	if few > 0 {
		which = fmt.Sprintf("its rows tell latitude and longitude in both orders, as in lines %d and %d", v.line[latitudeFirst], v.line[longitudeFirst])
	}
	return noOrder, "", &geofile.Error{File: t.File, Msg: fmt.Sprintf("column %s holds both angles of a place, and %s", quote(header), which),
		Hint: fmt.Sprintf("name it %s or %s, in the file or with --map", latitudeThenLongitude, longitudeThenLatitude)}
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
