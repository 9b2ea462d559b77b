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
// day that could not be read, and with a blank above a row that tells the day, or on a plant or
// leaf that no such row is of; a blank farther off may be another visit. Below a row of its stop
// a blank is of that one's day. notes tell of the blanks.
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
	type leaf struct {
		ofStop
		plant, leaf string
	}
	days, several, leaves := map[ofStop]string{}, map[ofStop]bool{}, map[leaf]bool{}
	for i := range records {
		r := &records[i]
		n := wholeStopOf(r)
		if r.Date == "" || !blank[n] {
			continue
		}
		several[n] = several[n] || days[n] != "" && days[n] != r.Date
		days[n] = r.Date
		leaves[leaf{n, r.Plant, r.Leaf}] = true
	}
	if len(days) == 0 {
		return nil
	}
	filled := map[string]int{}
	var files []string
	for i := range records {
		r := &records[i]
		if r.Date != "" {
			continue
		}
		n := wholeStopOf(r)
		day := ""
		switch own := !leaves[leaf{n, r.Plant, r.Leaf}] && (r.Plant != "" || r.Leaf != ""); {
		case i > 0 && !r.Undated && wholeStopOf(&records[i-1]) == n:
			day = records[i-1].Date
		case !several[n] && (own || r.Undated || standsAbove(records[i:])):
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

// standsAbove reports whether the first of some rows stands in one block with a row of its stop
// that tells the day.
func standsAbove(records []Record) bool {
	n := wholeStopOf(&records[0])
	for i := range records {
		if wholeStopOf(&records[i]) != n {
			return false
		}
		if records[i].Date != "" {
			return true
		}
	}
	return false
}
