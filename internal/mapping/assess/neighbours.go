package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// neighbours finds stops near others, looking at those no farther in x alone.
type neighbours struct {
	number []int       // of the stops from west to east
	at     []orb.Point // likewise
}

func newNeighbours(at []orb.Point) neighbours {
	n := neighbours{make([]int, len(at)), make([]orb.Point, len(at))}
	for i := range at {
		n.number[i] = i
	}
	slices.SortFunc(n.number, func(a, b int) int { return cmp.Or(before(at[a], at[b]), a-b) })
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

// within are the ranks from the west of the stops no farther than reach from the one of a
// rank, itself among them.
func (n neighbours) within(rank int, reach float64) (all []int) {
	p, wide := n.at[rank], reach*(1+1e-9) // for rounding
	most := max(leastNear, mostLooked/len(n.at))
	from, _ := slices.BinarySearchFunc(n.at[:rank], p[0]-wide, func(q orb.Point, x float64) int { return cmp.Compare(q[0], x) })
	for k := from; k < len(n.at) && n.at[k][0] <= p[0]+wide && len(all) < most; k++ {
		if math.Abs(n.at[k][1]-p[1]) <= wide && apart(n.at[k], p) <= wide {
			all = append(all, k)
		}
	}
	return all
}

// near are the numbers of the stops no farther than reach from each.
func (n neighbours) near(reach float64) [][]int {
	all := make([][]int, len(n.at))
	for rank, i := range n.number {
		all[i] = n.within(rank, reach)
		for k, r := range all[i] {
			all[i][k] = n.number[r]
		}
	}
	return all
}

// groups part the stops: the one with the most others within reach takes these, and so on
// with those left. The one that took the others comes first.
func (n neighbours) groups(reach float64) (all [][]int) {
	near := n.near(reach)
	order := slices.Clone(n.number)
	slices.SortStableFunc(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
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
