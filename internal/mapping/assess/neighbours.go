package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

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

// mostLooked bounds how many stops are listed for all of them, and leastNear how few for
// one: where so many stand in a heap, who of them has most others near is not found out.
const (
	mostLooked = 20_000_000
	leastNear  = 100
)

// near are the numbers of the stops no farther than reach from each, itself among them,
// from west to east.
func (n neighbours) near(reach float64) [][]int {
	rows, all := n.rows(reach), make([][]int, len(n.at))
	for rank, i := range n.number {
		all[i] = rows.within(rank)
		for k, r := range all[i] {
			all[i][k] = n.number[r]
		}
	}
	return all
}

// rows are stops by rows from west to east, as wide as reach or a little more: all that are
// near one stand in its own row or in those beside it.
type rows struct {
	neighbours
	reach, width float64
	ranks        map[float64][]int // from the west, by the number of the row
}

// Rows are wider than reach by this, and no narrower than this in metres, so that rounding
// puts no stop that is near two rows off.
const (
	rowSpare    = 1.01
	leastRow    = 0.001
	hairFarther = 1 + 1e-9 // likewise for distances
)

func (n neighbours) rows(reach float64) rows {
	r := rows{n, reach * hairFarther, max(leastRow, reach*rowSpare), map[float64][]int{}}
	for rank, p := range n.at {
		row := r.of(p)
		r.ranks[row] = append(r.ranks[row], rank)
	}
	return r
}

func (r rows) of(p orb.Point) float64 { return math.Floor(p[1] / r.width) }

// within are the ranks of the stops near that of a rank, ascending.
func (r rows) within(rank int) (all []int) {
	p, row := r.at[rank], r.of(r.at[rank])
	var left [3][]int // of each row, those not yet looked at
	for i := range left {
		ranks := r.ranks[row+float64(i-1)]
		from, _ := slices.BinarySearchFunc(ranks, p[0]-r.reach, func(k int, x float64) int { return cmp.Compare(r.at[k][0], x) })
		left[i] = ranks[from:]
	}
	for most := max(leastNear, mostLooked/len(r.at)); len(all) < most; {
		k := westernmost(&left)
		if k < 0 || !(r.at[k][0] <= p[0]+r.reach) {
			break
		}
		if math.Abs(r.at[k][1]-p[1]) <= r.reach && apart(r.at[k], p) <= r.reach {
			all = append(all, k)
		}
	}
	return all
}

// westernmost takes the least of ascending ranks; -1 where there are none left.
func westernmost(left *[3][]int) int {
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
	return k
}

// groups part the stops by who is near each: the one with the most others takes these, and
// so on with those left. The one that took the others comes first.
func (n neighbours) groups(near [][]int) (all [][]int) {
	order := slices.Clone(n.number)
	sorted.Stably(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
	taken := make([]bool, len(n.at))
	for _, i := range order {
		if taken[i] {
			continue
		}
		taken[i] = true
		group := []int{i}
		for _, k := range near[i] {
			if !taken[k] {
				taken[k] = true
				group = append(group, k)
			}
		}
		all = append(all, group)
	}
	return all
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// before orders places from west to east, and from south to north.
func before(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
