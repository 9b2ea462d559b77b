//go:build !small

package survey

import "slices"

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
	pairWords       = wordSet("position positions place location locations geolocation geopoint gps coordinate coordinates coord coords posicion lugar ubicacion localizacion geolocalizacion coordenada coordenadas")
	spanishPairs    = wordSet("posicion lugar ubicacion localizacion geolocalizacion coordenada coordenadas latitud longitud")
	latitudeWords   = wordSet("lat latitude latitud")
	longitudeWords  = wordSet("lon long lng longitude longitud")
	latitudeFirsts  = wordSet("latlon latlong latlng")
	longitudeFirsts = wordSet("lonlat longlat lnglat")
	besidePair      = wordSet("and y of de del the la el stop point punto sample muestra fix deg degrees grados decimal decimales dd wgs wgs84 84")
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

// mayHoldPlaces reports whether a header that is not known may be of whole places.
func mayHoldPlaces(header string) bool {
	_, is := headsPair(header)
	return is
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
			if _, both := anglePairOf(cell, true); both {
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
