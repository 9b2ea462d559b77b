package survey

import "fmt"

// ofStop is what rows of one stop in one file share, whatever their day.
type ofStop struct {
	file, stop string
	lon, lat   float64
}

func wholeStopOf(r *Record) ofStop {
	n := ofStop{file: r.File, stop: r.Stop}
	if r.Stop == "" {
		n.lon, n.lat = r.Longitude, r.Latitude
	}
	return n
}

// sameDay gives rows without a day that of the others of their stop in the file, where these
// are of one day: else the stop would be two, each with a part of its counts. So it is with a
// day that could not be read, unless the row is a whole count like the other ([whole]), and with
// a blank that stands together with a row that tells the day; a blank farther off may be another
// visit. Below a row of its stop a blank is of that one's day. notes tell of the blanks.
func sameDay(records []Record) (notes []string) {
	blank := map[ofStop]bool{}
	for i := range records { // not by value: records are large, and most have a day
		if r := &records[i]; r.Date == "" {
			blank[wholeStopOf(r)] = true
		}
	}
	if len(blank) == 0 {
		return nil
	}
	days, several := map[ofStop]string{}, map[ofStop]bool{}
	dated := map[ofStop]*Record{}
	for i := range records {
		r := &records[i]
		n := wholeStopOf(r)
		if r.Date == "" || !blank[n] {
			continue
		}
		several[n] = several[n] || days[n] != "" && days[n] != r.Date
		days[n], dated[n] = r.Date, r
	}
	if len(days) == 0 {
		return nil
	}
	filled, below := map[string]int{}, datedBelow(records)
	var files []string
	for i := range records {
		r := &records[i]
		if r.Date != "" {
			continue
		}
		n := wholeStopOf(r)
		day := ""
		switch {
		case i > 0 && !r.Undated && together(&records[i-1], r):
			if day = records[i-1].Date; whole(&records[i-1], r) {
				day = ""
			}
		case !several[n] && dated[n] != nil && (r.Undated && !whole(dated[n], r) || standsAbove(r, below[i])):
			day = days[n]
		}
		if day == "" {
			continue
		}
		if !r.Undated {
			if filled[r.File]++; filled[r.File] == 1 {
				files = append(files, r.File)
			}
		}
		r.Date = day
	}
	for _, file := range files {
		notes = append(notes, fmt.Sprintf("%s: rows without a day are taken as of the day of their stop's other rows: %d", file, filled[file]))
	}
	return notes
}

// whole reports whether two rows, which nothing numbers, are of several leaves each: they may be
// a stop that was counted twice, where the day of one is missing.
func whole(a, b *Record) bool {
	return a.Units > 1 && b.Units > 1 && !a.numbered() && !b.numbered()
}

// together reports whether two rows are of one stop, whatever their days.
func together(a, b *Record) bool {
	return wholeStopOf(a) == wholeStopOf(b) && pointOf(a).distance(pointOf(b)) <= apart
}

// datedBelow gives for each row the first in its block that tells the day, itself or one below;
// nil for none.
func datedBelow(records []Record) []*Record {
	below := make([]*Record, len(records))
	for i := len(records) - 1; i >= 0; i-- {
		switch r := &records[i]; {
		case r.Date != "":
			below[i] = r
		case i+1 < len(records) && together(r, &records[i+1]):
			below[i] = below[i+1]
		}
	}
	return below
}

// standsAbove reports whether a row stands in one block with a dated one of its stop below.
func standsAbove(r, dated *Record) bool {
	return dated != nil && together(r, dated) && !whole(r, dated)
}
