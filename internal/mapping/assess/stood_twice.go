package assess

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/sorted"
)

// leastStood is how many stops stand twice before a table may be two; of fewer, rows may be
// leaves in turn (our choice).
const leastStood = 3

// Stood is how the stops of a field stand in their table.
type Stood struct {
	Stops     int // planned ones
	Twice     int // of them, those that are there again, below all that were there once
	Different int // of those, the ones with another count or on other leaves
}

// TwoTables reports whether nearly all stops, four in five, are there again with other counts,
// so that these may be two visits without a day, or one with what it was before.
func (s Stood) TwoTables() bool {
	return s.Twice >= leastStood && 5*s.Twice >= 4*s.Stops && s.Different > 0
}

// StoodTwice looks for stops of a field whose rows stand in several places of one table, block
// below block, with nothing to tell them apart: not day, observer, leaf or plant, nor a time
// beside the day. Rows of a stop that stand together are its leaves, and rows of two files may
// be of two scouts.
func StoodTwice(stops []survey.Stop) (all Stood) {
	if n, may := mayStandTwice(stops); !may {
		return Stood{Stops: n}
	}
	apart := slices.DeleteFunc(slices.Clone(stops), func(s survey.Stop) bool { return s.Extra })
	planned := undatedJoined(apart)
	all.Stops = len(planned)
	ended, begun := 0, -1 // the last row of a first block, the first of a second
	for _, of := range blocks(planned) {
		if !again(of) {
			continue
		}
		all.Twice++
		if differ(of) {
			all.Different++
		}
		ended = max(ended, of[0].end)
		if begun < 0 || of[1].at < begun {
			begun = of[1].at
		}
	}
	if begun < ended { // each among the others, as in a table that was sorted
		all.Twice, all.Different = halfDated(apart)
	}
	return all
}

// mayStandTwice tells of how many planned stops there are whether any has several rows or a
// day: of large tables most have neither, and all rows need not be put in order.
func mayStandTwice(stops []survey.Stop) (n int, may bool) {
	for i := range stops {
		if s := &stops[i]; !s.Extra {
			n++
			may = may || s.Date != "" || len(s.Records) > 1
		}
	}
	return n, may
}

// halfDated counts stops that are there with a day and without one, each in rows of several
// leaves that nothing numbers, and those of them with other counts: such rows are whole counts,
// and the day of one may be missing, wherever they stand.
func halfDated(stops []survey.Stop) (twice, different int) {
	dated := map[string]survey.Stop{}
	whole := func(s survey.Stop) bool {
		return !slices.ContainsFunc(s.Records, func(r survey.Record) bool { return r.Units <= 1 || r.Plant != "" || r.Leaf != "" })
	}
	for _, s := range stops {
		if s.Date != "" && whole(s) {
			dated[s.Name] = s
		}
	}
	for _, s := range stops {
		if d, is := dated[s.Name]; is && s.Date == "" && whole(s) && near(s, d) && sameLeaf(&s.Records[0], &d.Records[0]) {
			twice++
			if s.Total != d.Total || s.Units != d.Units {
				different++
			}
		}
	}
	return twice, different
}

// StandApart reports whether rows of some stops may stand in several places of a table, or in
// two: it is for who would have to find their field first.
func StandApart(stops []survey.Stop) bool {
	n, dated := 0, 0
	for _, s := range stops {
		if s.Date != "" {
			dated++
		}
		if last := len(s.Records) - 1; last > 0 && s.Records[last].Line-s.Records[0].Line > last {
			n++
		}
	}
	return n >= leastStood || dated >= leastStood && len(stops)-dated >= leastStood || inTwoFiles(stops) >= leastStood
}

// undatedJoined puts stops without a day to those of their name and place with one: that one
// half has its day tells nothing of the other's.
func undatedJoined(stops []survey.Stop) (joined []survey.Stop) {
	dated := map[string]int{} // by name, in joined
	for _, s := range stops {
		if s.Date != "" {
			dated[s.Name] = len(joined)
			joined = append(joined, s)
		}
	}
	if len(joined) == len(stops) || len(joined) == 0 {
		return stops
	}
	for _, s := range stops {
		if s.Date != "" {
			continue
		}
		if i, is := dated[s.Name]; is && near(s, joined[i]) {
			joined[i].Records = slices.Concat(joined[i].Records, s.Records)
			continue
		}
		joined = append(joined, s)
	}
	return joined
}

// near reports whether two stops may be one, as good as needed there.
func near(a, b survey.Stop) bool {
	const metres = 111e3 // a degree
	east := (a.Longitude - b.Longitude) * math.Cos(a.Latitude*math.Pi/180)
	return math.Hypot(east, a.Latitude-b.Latitude)*metres <= sameStop
}

// block are rows of a stop that stand together; at and end count the rows of all stops.
type block struct {
	at, end int
	rows    []*survey.Record
}

// blocks are those of each stop, in the order of files and lines.
func blocks(stops []survey.Stop) [][]block {
	type row struct {
		*survey.Record
		stop int
	}
	var rows []row
	for i, s := range stops {
		for k := range s.Records {
			rows = append(rows, row{&s.Records[k], i})
		}
	}
	sorted.Stably(rows, func(a, b row) int {
		return cmp.Or(strings.Compare(a.File, b.File), a.Line-b.Line)
	})
	all := make([][]block, len(stops))
	for i, r := range rows {
		of := all[r.stop]
		if i == 0 || rows[i-1].stop != r.stop || rows[i-1].File != r.File {
			of = append(of, block{at: i})
		}
		last := &of[len(of)-1]
		last.end, last.rows = i+1, append(last.rows, r.Record)
		all[r.stop] = of
	}
	return all
}

// again reports whether a stop is there in two blocks or more that nothing tells apart. Many
// blocks of single leaves are leaves in turn.
func again(of []block) bool {
	if len(of) < 2 || len(of) > 2 && !slices.ContainsFunc(of, func(b block) bool { return len(b.rows) > 1 || b.rows[0].Units > 1 }) {
		return false
	}
	for _, then := range of[1:] {
		if !slices.ContainsFunc(then.rows, func(r *survey.Record) bool {
			return slices.ContainsFunc(of[0].rows, func(q *survey.Record) bool { return sameLeaf(q, r) })
		}) {
			return false
		}
	}
	return true
}

// sameLeaf reports whether two rows of a stop may be of the same leaf, whatever was counted.
func sameLeaf(a, b *survey.Record) bool {
	return a.File == b.File && a.Plant == b.Plant && a.Leaf == b.Leaf && a.Observer == b.Observer &&
		(a.Date == "" || b.Date == "" || a.Time == b.Time || a.Time == "" || b.Time == "")
}

// differ reports whether the blocks of a stop hold different counts, or are of other leaves.
func differ(of []block) bool {
	sum := func(b block) (sums [2]float64) {
		for _, r := range b.rows {
			sums[0], sums[1] = sums[0]+r.Total, sums[1]+r.Units
		}
		return sums
	}
	return slices.ContainsFunc(of[1:], func(b block) bool { return sum(b) != sum(of[0]) })
}
