package change

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// An Event is what happened to a hotspot between two visits.
type Event string

const (
	Born   Event = "born"
	Grew   Event = "grown"
	Stayed Event = "held"
	Shrank Event = "shrunk"
	Merged Event = "merged" // several became this one
	Joined Event = "joined" // went into another, which keeps its own number
	Split  Event = "split"  // this one became several
	Broke  Event = "broken off"
	Ended  Event = "gone"
	Lost   Event = "not looked at again" // no patch, and no stop near where it was
)

// steady is the change of area, as a share, that still counts as held.
const steady = 0.10

// A Step is what happened to one hotspot between two visits. Where there is no
// patch before or after, what needs it is NaN.
type Step struct {
	ID          int
	From, To    int // visits
	Event       Event
	With        []int   // other hotspots that took part in a merger or a split
	Before      float64 // m²
	After       float64 // m²
	Unseen      float64 // m² of Before that is no patch now, and had no stop near it
	Metres      float64 // moved by the centroid
	Bearing     float64 // degrees clockwise from north
	AreaRate    float64 // ln(after/before) a day
	DensityRate float64 // ln of the ratio of mean densities a day
}

// Tracks are the hotspots of a field through all visits.
type Tracks struct {
	Patches [][]Patch // of each visit, in the order of its map
	Steps   []Step    // by visit, then by number
}

// Track follows treat patches from visit to visit by the ground they have in
// common. A patch goes on under the number of the former one that it shares
// most ground with, each number once; others get new numbers, largest first. So
// a number never changes and is never used again.
func Track(field orb.MultiPolygon, visits []Visit) (*Tracks, error) {
	if len(visits) == 0 {
		return nil, fmt.Errorf("change: no visits")
	}
	t := &Tracks{}
	next := 1
	for k, v := range visits {
		patches := patchesOf(k, v)
		t.Patches = append(t.Patches, patches)
		if k == 0 {
			next = number(patches, next)
			continue
		}
		o, err := Lay(field, visits[k-1].Map, v.Map, nil, v.Unseen(visits[k-1]))
		if err != nil {
			return nil, err
		}
		links := linked(o.overlaps(), areasOf(visits[k-1].Map), areasOf(v.Map))
		inherit(t.Patches[k-1], patches, links)
		next = number(patches, next)
		t.Steps = append(t.Steps, steps(t.Patches[k-1], patches, links, o.unseen(), v.Day-visits[k-1].Day)...)
	}
	return t, nil
}

// inherit hands numbers on along the links, most common ground first.
func inherit(before, after []Patch, links []link) {
	used := map[int]bool{}
	for _, l := range links {
		if id := before[l.from].ID; after[l.to].ID == 0 && !used[id] {
			after[l.to].ID, used[id] = id, true
		}
	}
}

// number gives new numbers to patches without one, largest first.
func number(patches []Patch, next int) int {
	var fresh []int
	for i, p := range patches {
		if p.ID == 0 {
			fresh = append(fresh, i)
		}
	}
	slices.SortStableFunc(fresh, func(i, j int) int { return cmp.Compare(patches[j].Area, patches[i].Area) })
	for _, i := range fresh {
		patches[i].ID = next
		next++
	}
	return next
}

// steps tells what happened to every hotspot of either visit; unseen is of those before.
func steps(before, after []Patch, links []link, unseen []float64, days float64) (out []Step) {
	for j, p := range after {
		from := linkedTo(links, func(l link) (bool, int) { return l.to == j, l.from }, before)
		former := find(before, p.ID)
		s := step(at(before, former), &after[j], days)
		if former >= 0 {
			s.see(unseen[former])
		}
		switch {
		case len(from) == 0:
			s.Event = Born
		case s.Before == 0:
			s.Event, s.With = Broke, from
		case len(from) > 1:
			s.Event, s.With = Merged, without(from, p.ID)
		default:
			to := linkedTo(links, func(l link) (bool, int) { return before[l.from].ID == p.ID, l.to }, after)
			if s.Event = trend(s); len(to) > 1 {
				s.Event, s.With = Split, without(to, p.ID)
			}
		}
		out = append(out, s)
	}
	for i, p := range before {
		if find(after, p.ID) >= 0 {
			continue
		}
		s := step(&before[i], nil, days)
		s.see(unseen[i])
		if s.Event = Ended; s.inDoubt() {
			s.Event = Lost
		}
		if to := linkedTo(links, func(l link) (bool, int) { return l.from == i, l.to }, after); len(to) > 0 {
			s.Event, s.With = Joined, to
		}
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Step) int { return a.ID - b.ID })
	return out
}

func linkedTo(links []link, pick func(link) (bool, int), patches []Patch) (ids []int) {
	for _, l := range links {
		if ok, i := pick(l); ok {
			ids = append(ids, patches[i].ID)
		}
	}
	slices.Sort(ids)
	return ids
}

func without(ids []int, id int) []int {
	return slices.DeleteFunc(ids, func(other int) bool { return other == id })
}

// find is the index of a patch by its number, −1 for none.
func find(patches []Patch, id int) int {
	return slices.IndexFunc(patches, func(p Patch) bool { return p.ID == id })
}

func at(patches []Patch, i int) *Patch {
	if i < 0 {
		return nil
	}
	return &patches[i]
}

// see takes in how much of a hotspot the later visit did not see; how fast its area went is not
// known where that is more than what counts as held.
func (s *Step) see(unseen float64) {
	if s.Unseen = unseen; s.inDoubt() {
		s.AreaRate = math.NaN()
	}
}

func (s *Step) inDoubt() bool { return s.Unseen > steady*s.Before }

// step measures one hotspot; either patch may be missing.
func step(before, after *Patch, days float64) Step {
	s := Step{Metres: math.NaN(), Bearing: math.NaN(), AreaRate: math.NaN(), DensityRate: math.NaN()}
	if before != nil {
		s.ID, s.From, s.To, s.Before = before.ID, before.Visit, before.Visit+1, before.Area
	}
	if after != nil {
		s.ID, s.From, s.To, s.After = after.ID, after.Visit-1, after.Visit, after.Area
	}
	if before != nil && after != nil {
		s.Metres = math.Hypot(after.Centroid[0]-before.Centroid[0], after.Centroid[1]-before.Centroid[1])
		s.Bearing = Bearing(before.Centroid, after.Centroid)
		s.AreaRate = math.Log(after.Area/before.Area) / days
		s.DensityRate = math.Log(after.Mean/before.Mean) / days
	}
	return s
}

// trend is what became of a hotspot that goes on; what was not seen of it is not taken for lost.
func trend(s Step) Event {
	switch {
	case s.After/s.Before > 1+steady:
		return Grew
	case (s.After+s.Unseen)/s.Before < 1-steady:
		return Shrank
	}
	return Stayed
}
