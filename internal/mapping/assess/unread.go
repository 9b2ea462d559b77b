package assess

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// sameStop is how far in metres rows of one stop may lie apart, as they are read.
const sameStop = 30

// An Unread is a stop that may have been counted in a field, or rows more of one that
// was: rows that were set aside, of one name.
type Unread struct {
	Rows   []survey.Unread
	LonLat orb.Point // degrees; of no meaning where not Placed
	XY     orb.Point // likewise, metres in the field's frame
	Placed bool
	Own    bool  // it may be a stop of its own
	Of     []int // stops of the field that the rows may be part of
	Loose  bool  // it may be another field's as well
	// Share is how likely it is the field's, by the stops used of all fields that it may be
	// of: 1 where it is not Loose.
	Share float64
	// PlaceOf is the stop at whose place the rows stand, which cannot be theirs; "" of others.
	PlaceOf string
}

// Lost counts the stops that may lie in a field beside those used, and the rows that
// stops used may lack; loose is set where some may be another field's.
func Lost(unread []Unread) (stops, rows int, loose bool) {
	for _, u := range unread {
		loose = loose || u.Loose
		if u.Own {
			stops++
		} else {
			rows += len(u.Rows)
		}
	}
	return stops, rows, loose
}

// Lost is how much of a stop the rows are, 0 to 1: all of one of their own; of a stop that
// was counted their part of its units, a row that tells none being as large as its others.
func (u Unread) Lost(stops []Stop) (lost float64) {
	if u.Own {
		return 1
	}
	for _, i := range u.Of {
		used, more := stops[i].Units, 0.0
		for _, row := range u.Rows {
			if more += row.Units; row.Units == 0 {
				more += used / float64(max(1, len(stops[i].Records)))
			}
		}
		lost = max(lost, more/(used+more))
	}
	return lost
}

// unread gives the rows that were not read to the fields that they may lie in. Rows
// that say their place lie there, and are left out far from all fields; those that
// tell no place lie where the other rows of their stop do, else in the field that they name, else in
// any; a place that was refused with an offer is taken as offered, so that the row is one field's
// only.
func (r *Result) unread(sites []site, stops [][]Stop) [][]Unread {
	out := make([][]Unread, len(sites))
	if len(r.Survey.Unread) == 0 {
		return out
	}
	ix := newIndex(sites)
	names := r.fieldsNamed(ix, stops)
	for _, rows := range names.alike(r.Survey.Unread) {
		placed := slices.IndexFunc(rows, func(u survey.Unread) bool { return u.Placed })
		if placed < 0 {
			placed = slices.IndexFunc(rows, func(u survey.Unread) bool { return u.Offered })
		}
		if placed < 0 {
			loosen(out, sites, stops, rows, names.ofStop(rows))
			continue
		}
		lonlat := orb.Point{rows[placed].Row.Longitude, rows[placed].Row.Latitude}
		at := ix.find(lonlat)
		switch {
		case at.field >= 0:
			u := Unread{Rows: rows, LonLat: lonlat, XY: sites[at.field].frame.Forward(lonlat), Placed: true, Share: 1}
			u.join(stops[at.field])
			out[at.field] = append(out[at.field], u)
		case rows[placed].Shifted, rows[placed].Offered: // its place may not be meant
			loosen(out, sites, stops, rows, names.ofStop(rows))
		}
	}
	return out
}

// join finds the stop that rows with a place are part of: that of their name; where
// stops are known by their position, the one on theirs; else, without a name that is sure,
// perhaps the nearest.
func (u *Unread) join(stops []Stop) {
	first := &u.Rows[0]
	nameless := first.Row.Stop == "" || first.Shifted
	u.Own = true
	nearest := float64(sameStop)
	for i := range stops {
		s := &stops[i]
		d := math.Hypot(s.XY[0]-u.XY[0], s.XY[1]-u.XY[1])
		switch theirs := ofStop(first, s) || u.on(s); {
		case theirs && u.Own && d <= sameStop:
			u.Own = false
		case d > nearest, theirs == u.Own, !theirs && !nameless:
			continue
		}
		nearest, u.Of = d, []int{i}
	}
}

// on reports whether rows without a name stand on a stop that is known by its position.
func (u *Unread) on(s *Stop) bool {
	first := &u.Rows[0]
	return first.Row.Stop == "" && !first.Shifted && s.Records[0].Stop == "" && s.Longitude == u.LonLat[0] && s.Latitude == u.LonLat[1]
}

// loosen gives rows without a place to the field that they name, else to the fields in which a stop
// of their name was counted, else to all, by the stops of those that their name is like. Where they
// name a field and their stop was counted in others alone, either may be wrong: it is all of theirs.
func loosen(out [][]Unread, sites []site, stops [][]Stop, rows []survey.Unread, named int) {
	of, fields := stopsOf(&rows[0], stops)
	switch {
	case named == noField:
	case of[named] != nil || fields == 0:
		out[named] = append(out[named], Unread{Rows: rows, Own: of[named] == nil, Of: of[named], Share: 1})
		return
	default:
		fields++
	}
	shares := sharesOf(sites, stops, rows[0].Row.Stop)
	for f := range out {
		switch {
		case of[f] != nil:
			out[f] = append(out[f], Unread{Rows: rows, Of: of[f], Loose: fields > 1, Share: 1 / float64(fields)})
		case f == named:
			out[f] = append(out[f], Unread{Rows: rows, Own: true, Loose: true, Share: 1 / float64(fields)})
		case fields == 0:
			out[f] = append(out[f], Unread{Rows: rows, Own: true, Loose: len(out) > 1, Share: shares[f]})
		}
	}
}

// stopsOf are the stops of each field that a row names, and in how many fields there are any.
func stopsOf(u *survey.Unread, stops [][]Stop) (of [][]int, fields int) {
	of = make([][]int, len(stops))
	if u.Row.Stop == "" {
		return of, 0
	}
	for f := range stops {
		for i := range stops[f] {
			if ofStop(u, &stops[f][i]) {
				of[f] = append(of[f], i)
			}
		}
		if of[f] != nil {
			fields++
		}
	}
	return of, fields
}

// ofStop reports whether a row names a stop, and not another day. The cell that a shifted
// row has under the date may not be meant as one.
func ofStop(u *survey.Unread, s *Stop) bool {
	return u.Row.Stop != "" && u.Row.Stop == s.Records[0].Stop && (u.Shifted || u.Row.Date == s.Date || u.Row.Date == "" || s.Date == "")
}

// Bounds are the least and the most that the statistic may be at the stop, if the rows
// are one of their own: both are its value where the rows tell it, 0 and +Inf where a
// mean is not bounded by what they tell.
func (u Unread) Bounds(s Statistic) (low, high float64) {
	if v, ok := u.value(s, survey.Stop{}); ok {
		return v, v
	}
	if s.Share() {
		return 0, 100
	}
	low = math.Inf(1)
	for _, row := range u.Rows {
		low, high = min(low, row.Least), max(high, row.Most)
	}
	return low, high
}

// BoundsIn are likewise those of a stop that was counted, with the rows added to it.
func (u Unread) BoundsIn(stop Stop, s Statistic) (low, high float64) {
	if v, ok := u.value(s, stop.Stop); ok {
		return v, v
	}
	low, high = u.Bounds(s)
	more := 0.0
	for _, row := range u.Rows {
		if row.Units == 0 {
			return min(low, stop.Value), max(high, stop.Value) // of any weight
		}
		more += row.Units
	}
	units := stop.Units
	if s.Part != "" {
		units, more = float64(max(1, stop.Plants)), float64(u.plants())
	}
	share := func(v float64) float64 { return (stop.Value*units + float64(v*more)) / (units + more) }
	return share(low), max(share(high), stop.Value)
}

// plants is how many plants the rows are of: one of each that does not tell.
func (u Unread) plants() int {
	rows := make([]survey.Record, len(u.Rows))
	for i, row := range u.Rows {
		rows[i] = row.Row
	}
	return max(len(rows), survey.PlantsOf(rows))
}

// value is the statistic of a stop with the rows added to it, where they tell it.
func (u Unread) value(s Statistic, stop survey.Stop) (float64, bool) {
	stop.Records = slices.Clone(stop.Records)
	for _, row := range u.Rows {
		if !row.Counted() {
			return 0, false
		}
		stop.Total, stop.Units = stop.Total+row.Row.Total, stop.Units+row.Row.Units
		stop.Records = append(stop.Records, row.Row)
	}
	stop.Plants = survey.PlantsOf(stop.Records)
	return s.At(stop)
}

// Undated counts the rows used whose day is given, but could not be read.
func (f *Field) Undated() (n int) {
	for _, s := range f.Stops {
		for _, r := range s.Records {
			if r.Undated {
				n++
			}
		}
	}
	return n
}

// Predicted is what the stops say of a place; NaN where they say nothing.
func (f *Field) Predicted(xy orb.Point) float64 {
	p, err := f.Settings.IDW.Fit(samplesOf(f.Stops))
	if err != nil {
		return math.NaN()
	}
	return p.Predict(xy[0], xy[1])
}

// A Position is where a stop may have been.
type Position struct {
	XY     orb.Point // metres in the field's frame
	Inside float64   // metres from the field's edge; below 0 outside
}

// Position says how far inside the field a place lies, given in metres of its frame.
func (f *Field) Position(xy orb.Point) Position {
	d := geo.DistanceToEdge(f.XY, xy)
	if !geo.Contains(f.XY, xy) {
		d = -d
	}
	return Position{xy, d}
}

// Places are where a stop may have been in a field: beside those there are, and on a
// net with points on its edge.
func (f *Field) Places() (places []Position) {
	const net, most, beside = 6, 40, 3 // points across, stops, metres
	b := geo.Bound(f.XY)
	for i := range net * net {
		part := func(k, axis int) float64 {
			return b.Min[axis] + float64((b.Max[axis]-b.Min[axis])*(float64(k)+0.5)/net)
		}
		if p := (orb.Point{part(i%net, 0), part(i/net, 1)}); geo.Contains(f.XY, p) {
			places = append(places, f.Position(p))
		}
	}
	for i := 0; i < len(f.Stops); i += 1 + len(f.Stops)/most {
		places = append(places, f.Position(orb.Point{f.Stops[i].XY[0] + beside, f.Stops[i].XY[1]}))
	}
	ring := f.XY[0][0]
	for i := 0; i < len(ring)-1; i += 1 + len(ring)/8 {
		places = append(places, f.Position(orb.Point{(ring[i][0] + ring[i+1][0]) / 2, (ring[i][1] + ring[i+1][1]) / 2}))
	}
	return places
}
