//go:build !small

package survey

// told is by places what rows there tell of day, time and observer, where other rows leave it
// out: a copy may have lost these columns. It is nil where all rows tell as much.
type told map[[2]float64]*Record

// toldOf looks for it. A place of several days, times or observers says nothing of its blanks.
func toldOf(records []Record) told {
	least, most := 3, 0
	for i := range records {
		n := records[i].tells()
		least, most = min(least, n), max(most, n)
	}
	if least >= most {
		return nil
	}
	all := told{}
	for i := range records {
		r := &records[i]
		at := [2]float64{r.Longitude, r.Latitude}
		one := all[at]
		if one == nil {
			one = &Record{Date: r.Date, Time: r.Time, Observer: r.Observer}
			all[at] = one
		}
		one.Date, one.Time, one.Observer = onlyOne(one.Date, r.Date), onlyOne(one.Time, r.Time), onlyOne(one.Observer, r.Observer)
	}
	return all
}

// several is no day, time or observer.
const several = "\x00"

func onlyOne(a, b string) string {
	switch {
	case a == "" || a == b:
		return b
	case b == "":
		return a
	}
	return several
}

// of is a row with what the others of its place tell.
func (t told) of(r *Record) *Record {
	one := t[[2]float64{r.Longitude, r.Latitude}]
	if one == nil || r.tells() == 3 {
		return r
	}
	full := *r
	fill := func(cell *string, with string) {
		if *cell == "" && with != several {
			*cell = with
		}
	}
	fill(&full.Date, one.Date)
	fill(&full.Time, one.Time)
	fill(&full.Observer, one.Observer)
	return &full
}

// tells is how many of day, time and observer a row has.
func (r *Record) tells() (n int) {
	for _, cell := range [...]string{r.Date, r.Time, r.Observer} {
		if cell != "" {
			n++
		}
	}
	return n
}
