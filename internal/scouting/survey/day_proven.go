package survey

import "fmt"

// proven is an order of day and month that a date of a file tells by itself; the zero value
// is none.
type proven struct {
	file, text string
	order      slashes
	sameDay    bool // no date needs this order; the day that the others of the reading have does
}

// ordersProven are the orders that the files of one reading prove.
type ordersProven struct {
	first, other proven // other is the first that differs from the first; none where all agree
	left         bool   // a file leaves open how its dates are read, and nobody was asked
}

func (o *ordersProven) add(l *layout) {
	o.left = o.left || l.openLine > 0
	switch {
	case l.proven.file == "":
	case o.first.file == "":
		o.first = l.proven
	case l.proven.order != o.first.order && o.other.file == "":
		o.other = l.proven
	}
}

// serve reports whether the order that files prove is that of files that leave theirs open:
// what is read together was mostly written by the same people. Our choice.
func (o *ordersProven) serve() bool {
	return o.left && o.first.file != "" && o.other.file == ""
}

// sameMorning is the order in which files that leave theirs open are of days of the other
// files; the zero value where a file is of none of these days both ways, or where both are.
// What is read together was mostly walked together. Our choice.
func (b *builder) sameMorning() (p proven) {
	open, days := map[string]bool{}, map[string]string{} // of others, by whom
	for _, o := range b.survey.OpenDays {
		open[o.File] = true
	}
	for _, r := range b.records {
		if _, known := days[r.Date]; !known && !open[r.File] && r.Date != "" {
			days[r.Date] = r.File
		}
	}
	for _, o := range b.survey.OpenDays {
		month, day := days[o.MonthFirst], days[o.DayFirst]
		q := proven{file: month, text: o.MonthFirst, order: monthFirst, sameDay: true}
		if day != "" {
			q = proven{file: day, text: o.DayFirst, order: dayFirst, sameDay: true}
		}
		if (month == "") == (day == "") || p.file != "" && p.order != q.order {
			return proven{}
		}
		p = q
	}
	return p
}

// note says that files differ, "" where they do not.
func (o *ordersProven) note() string {
	if o.other.file == "" {
		return ""
	}
	return fmt.Sprintf("%s has dates %s (%q), and %s %s (%q): each file is read by its own order", o.first.file, o.first.order, o.first.text, o.other.file, o.other.order, o.other.text)
}

// asIn is how open dates of a file are read as another file's prove.
func (p proven) asIn(open OpenDay) string {
	date, _, _ := p.order.parseTime(open.Text)
	if p.sameDay {
		return fmt.Sprintf("%s: dates such as %q are read %s, as %s: so they are of a day of %s", open.File, open.Text, p.order, date, p.file)
	}
	return fmt.Sprintf("%s: dates such as %q are read %s, as %s, since %q in %s can only be read so", open.File, open.Text, p.order, date, p.text, p.file)
}
