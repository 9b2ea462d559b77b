package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/shares"
	"github.com/geocoris/geocoris/internal/sorted"
)

// neighbours finds stops near others.
type neighbours struct {
	number []int       // of the stops from west to east
	at     []orb.Point // likewise
}

func newNeighbours(at []orb.Point) neighbours {
	n := neighbours{make([]int, len(at)), make([]orb.Point, len(at))}
	for i := range at {
		n.number[i] = i
	}
	sorted.By(n.number, func(a, b int) int { return cmp.Or(before(at[a], at[b]), a-b) })
	for k, i := range n.number {
		n.at[k] = at[i]
	}
	return n
}

// only are those of the stops that are told, numbered anew in their order.
func (n neighbours) only(told []bool) (some neighbours) {
	left := 0
	number := make([]int, len(told))
	for i, is := range told {
		number[i] = left
		if is {
			left++
		}
	}
	some = neighbours{make([]int, 0, left), make([]orb.Point, 0, left)}
	for k, i := range n.number {
		if told[i] {
			some.number, some.at = append(some.number, number[i]), append(some.at, n.at[k])
		}
	}
	return some
}

// mostLooked bounds how many stops are listed for all of them, or for all places that
// differ, and leastNear how few for one: where so many stand in a heap, who of them has most
// others near is not found out.
const (
	mostLooked = 5_000_000
	leastNear  = 100
)

// near are the numbers of the stops no farther than reach from each, itself among them,
// from west to east; none where reach is not a number. Stops on one point share a list.
func (n neighbours) near(reach float64) [][]int { return n.listed(reach, len(n.at)) }

// nearPlaces is near, but bounded by how many places differ in place of how many stops there
// are: a heap on one point has one list, which may be long.
func (n neighbours) nearPlaces(reach float64) [][]int {
	places := 1
	for rank := 1; rank < len(n.at); rank++ {
		if n.at[rank] != n.at[rank-1] {
			places++
		}
	}
	return n.listed(reach, places)
}

// listed is near with so many lists to be held.
func (n neighbours) listed(reach float64, lists int) [][]int {
	all := make([][]int, len(n.at))
	if math.IsNaN(reach) {
		return all
	}
	rows, most := n.rows(reach), max(leastNear, mostLooked/max(1, lists))
	shares.Of(len(n.at), leastShare, func(from, to int) {
		rows := rows.again()
		var list, room []int // room of many lists, as most are short
		for rank := from; rank < to; rank++ {
			if rank > from && n.at[rank] == n.at[rank-1] {
				all[n.number[rank]] = all[n.number[rank-1]]
				continue
			}
			list = rows.within(rank, most, list[:0])
			if cap(room)-len(room) < len(list) {
				room = make([]int, 0, max(len(list), to-from))
			}
			begin := len(room)
			for _, r := range list {
				room = append(room, n.number[r])
			}
			all[n.number[rank]] = room[begin:len(room):len(room)]
		}
	})
	return all
}

// nearest are the distances in metres from each to the nearest other, ascending and no more
// than most.
func (n neighbours) nearest(most float64) []float64 {
	all := make([]float64, len(n.at))
	if math.IsNaN(most) {
		for i := range all {
			all[i] = most
		}
		return all
	}
	rows := n.rows(most)
	shares.Of(len(n.at), leastShare, func(from, to int) {
		rows := rows.again()
		for rank := from; rank < to; rank++ {
			all[rank] = rows.nearest(rank, most)
		}
	})
	slices.Sort(all)
	return all
}

// leastShare is how many stops are worth a processor of their own.
const leastShare = 4096

// rows are stops by rows from west to east, as wide as reach or wider: all that are near
// one stand in its own row or in those beside it.
type rows struct {
	neighbours
	reach float64
	row   []int32 // of each rank; that next to the south is one less
	all   []row   // the first and the last are empty
}

// row is a row of stops.
type row struct {
	ranks []int32 // from the west
	from  int     // those before it stand too far west
}

// Rows are wider than reach by this, and no narrower than this in metres, so that rounding
// puts no stop that is near two rows off.
const (
	rowSpare    = 1.01
	leastRow    = 0.001
	hairFarther = 1 + 1e-9 // likewise for distances
)

// rows are no more than there are stops.
func (n neighbours) rows(reach float64) *rows {
	south, north := math.Inf(1), math.Inf(-1)
	for _, p := range n.at {
		south, north = min(south, p[1]), max(north, p[1])
	}
	width := max(leastRow, reach*rowSpare, (north-south)/float64(len(n.at)))
	r := &rows{n, reach * hairFarther, make([]int32, len(n.at)), nil}
	last := int32(0)
	for rank, p := range n.at {
		r.row[rank] = 1 + int32((p[1]-south)/width)
		last = max(last, r.row[rank])
	}
	r.all = make([]row, last+2)
	in, ranks := make([]int32, last+2), make([]int32, len(n.at)) // how many are in each
	for _, of := range r.row {
		in[of]++
	}
	for of, many := range in {
		r.all[of].ranks, ranks = ranks[:0:many], ranks[many:]
	}
	for rank, of := range r.row {
		r.all[of].ranks = append(r.all[of].ranks, int32(rank))
	}
	return r
}

// again are the same, of which none was asked for yet.
func (r *rows) again() *rows {
	fresh := *r
	fresh.all = slices.Clone(r.all)
	return &fresh
}

// nearest is how far it is from the stop of a rank to the nearest other, or most. Ranks are
// asked for from the west on.
func (r *rows) nearest(rank int, most float64) float64 {
	p := r.at[rank]
	farther := r.reach * r.reach * hairFarther // squared: what is no nearer, whatever rounds
	takes := func(of int32) bool {
		dx, dy := r.at[of][0]-p[0], r.at[of][1]-p[1]
		if d2 := float64(dx*dx) + float64(dy*dy); d2 <= farther {
			most, farther = min(most, apart(r.at[of], p)), d2*hairFarther
		}
		return float64(dx*dx) <= farther
	}
	for _, beside := range [...]int32{0, -1, 1} {
		row := &r.all[r.row[rank]+beside]
		for row.from < len(row.ranks) && int(row.ranks[row.from]) < rank {
			row.from++
		}
		for k := row.from; k < len(row.ranks); k++ {
			if int(row.ranks[k]) != rank && !takes(row.ranks[k]) {
				break
			}
		}
		for k := row.from - 1; k >= 0 && takes(row.ranks[k]); k-- {
		}
	}
	return most
}

// within adds the ranks of the stops near that of a rank, ascending, and so many at most.
// Ranks are asked for from the west on, so that no stop that was left behind comes near again.
func (r *rows) within(rank, most int, all []int) []int {
	p := r.at[rank]
	var left [3][]int32 // of each row, those not yet looked at
	for i := range left {
		row := &r.all[int(r.row[rank])+i-1]
		for row.from < len(row.ranks) && r.at[row.ranks[row.from]][0] < p[0]-r.reach {
			row.from++
		}
		left[i] = row.ranks[row.from:]
	}
	farther := r.reach * r.reach * hairFarther
	nearer := r.reach * r.reach / (hairFarther * hairFarther) // no doubt that these are within
	for most += len(all); len(all) < most; {
		k := westernmost(&left)
		if k < 0 || !(r.at[k][0] <= p[0]+r.reach) {
			break
		}
		dx, dy := r.at[k][0]-p[0], r.at[k][1]-p[1]
		if d2 := float64(dx*dx) + float64(dy*dy); d2 < nearer || d2 <= farther && apart(r.at[k], p) <= r.reach { // the first are quicker
			all = append(all, k)
		}
	}
	return all
}

// westernmost takes the least of ascending ranks; -1 where there are none left.
func westernmost(left *[3][]int32) int {
	least := -1
	for i, ranks := range left {
		if len(ranks) > 0 && (least < 0 || ranks[0] < left[least][0]) {
			least = i
		}
	}
	if least < 0 {
		return -1
	}
	k := left[least][0]
	left[least] = left[least][1:]
	return int(k)
}

// groups part the stops by who is near each: the one with the most others takes these, and
// so on with those left. The one that took the others comes first.
func (n neighbours) groups(near [][]int) (all [][]int) {
	taken, of := make([]bool, len(n.at)), make([]int, 0, len(n.at))
	all = make([][]int, 0, len(n.at))
	for _, i := range n.mostNear(near) {
		if taken[i] {
			continue
		}
		from := len(of)
		taken[i], of = true, append(of, i)
		for _, k := range near[i] {
			if !taken[k] {
				taken[k], of = true, append(of, k)
			}
		}
		all = append(all, of[from:len(of):len(of)])
	}
	return all
}

// mostNear are the numbers of the stops by how many are near them, the most first, and
// from west to east where those are as many.
func (n neighbours) mostNear(near [][]int) []int {
	most := 0
	for _, of := range near {
		most = max(most, len(of))
	}
	first := make([]int, most+2) // of those with so many fewer than the most
	for _, of := range near {
		first[most-len(of)+1]++
	}
	for fewer := range most {
		first[fewer+1] += first[fewer]
	}
	order := make([]int, len(near))
	for _, i := range n.number {
		fewer := most - len(near[i])
		order[first[fewer]] = i
		first[fewer]++
	}
	return order
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// before orders places from west to east, and from south to north.
func before(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
