package spray

import (
	"container/heap"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A search is one for the shortest way by corners, those first by which the end may be
// nearest (A*: Hart, Nilsson & Raphael 1968). Whether a piece is free is looked at when a
// way would be taken, as most are not, and corners are looked for no farther off than ways
// have been: most ways bend near where they begin and end.
type search struct {
	*router
	a, b    orb.Point
	start   view            // from a
	settled map[int]settled // corners that a way leads to, by their numbers
	best    float64
	last    int // the corner before the end by the best way; -1 for none
	queue   reaches
}

// settled is how a way leads to a corner.
type settled struct {
	from int // the corner before, -1 for the start
	turn int // how many were settled with this one
}

// A reach is a way to a corner, the last piece of which may not be free.
type reach struct {
	far    float64
	least  float64 // how far it is by it to the end at least
	corner int     // or -1 for all farther on, of which far is that of the corner before
	from   int     // corner, or -1 for the start
	turn   int     // of that corner, 0 of the start
}

func (r *router) search(a, b orb.Point) *search {
	s := &search{router: r, a: a, b: b, settled: map[int]settled{}, best: math.Inf(1), last: -1}
	s.goFarther(reach{far: 0, least: math.Inf(-1), from: -1})
	return s
}

// leastDetour is how much longer than straight on the ways are that are looked for first, m.
const leastDetour = 4

// goFarther queues the ways on from a corner by which it is farther to the end than those
// queued before, up to twice the detour. Those lie in an ellipse about both.
func (s *search) goFarther(at reach) {
	p, from := s.a, &s.start
	if at.from >= 0 {
		p, from = s.corners[at.from], &s.views[at.from]
	}
	straight := at.far + apart(p, s.b)
	most := straight + max(2*(at.least-straight), leastDetour)
	seen := s.view(from, p, (most-at.far+apart(p, s.b))/2*(1+1e-9)) // no corner within the ellipse is farther
	farther := !math.IsInf(seen.to, 1)
	for _, corner := range seen.corners {
		k := int(corner)
		far := at.far + apart(p, s.corners[k])
		least := far + apart(s.corners[k], s.b)
		if least > most {
			farther = true
			continue
		}
		if least <= at.least || at.from >= 0 && s.sight(at.from, k) == blocked {
			continue
		}
		if before, done := s.settled[k]; !done || before.turn > at.turn {
			s.add(reach{far, least, k, at.from, at.turn})
		}
	}
	if farther {
		s.add(reach{at.far, most, -1, at.from, at.turn})
	}
}

func (s *search) add(r reach) {
	if r.least < s.best {
		heap.Push(&s.queue, r)
	}
}

// next takes the corner by which the end may be nearest.
func (s *search) next() (at reach, ok bool) {
	for len(s.queue) > 0 {
		at = heap.Pop(&s.queue).(reach)
		if at.least >= s.best {
			s.queue = nil
			break
		}
		if at.corner >= 0 {
			return at, true
		}
		s.goFarther(at)
	}
	return at, false
}

// goesOn takes the next corner, and reports whether there may be a shorter way yet.
func (s *search) goesOn() bool {
	at, ok := s.next()
	if !ok {
		return false
	}
	if _, done := s.settled[at.corner]; done || !s.leads(at) {
		return true
	}
	turn := len(s.settled) + 1
	s.settled[at.corner] = settled{at.from, turn}
	if s.free(s.corners[at.corner], s.b) {
		s.best, s.last = at.least, at.corner
	}
	s.goFarther(reach{far: at.far, least: math.Inf(-1), from: at.corner, turn: turn})
	return true
}

// leads reports whether the last piece of a reach is free.
func (s *search) leads(at reach) bool {
	if at.from < 0 {
		return s.free(s.a, s.corners[at.corner])
	}
	return s.see(at.from, at.corner)
}

func (s *search) way() orb.LineString {
	if s.last < 0 {
		return nil
	}
	way := orb.LineString{s.b}
	for at := s.last; at >= 0; at = s.settled[at].from {
		way = append(way, s.corners[at])
	}
	way = append(way, s.a)
	slices.Reverse(way)
	return way
}

// reaches are a heap, the shortest first; of equal ones the first corner, from the corner
// that was settled first.
type reaches []reach

func (s reaches) Len() int { return len(s) }
func (s reaches) Less(i, j int) bool {
	switch a, b := s[i], s[j]; {
	case a.least != b.least:
		return a.least < b.least
	case a.corner != b.corner:
		return a.corner < b.corner
	default:
		return a.turn < b.turn
	}
}
func (s reaches) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *reaches) Push(x any)   { *s = append(*s, x.(reach)) }
func (s *reaches) Pop() any {
	last := (*s)[len(*s)-1]
	*s = (*s)[:len(*s)-1]
	return last
}
