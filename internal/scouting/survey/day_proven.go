package survey

import "fmt"

// proven is an order of day and month that a date of a file tells by itself; the zero value
// is none.
type proven struct {
	file, text string
	order      slashes
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
	return fmt.Sprintf("%s: dates such as %q are read %s, as %s, since %q in %s can only be read so", open.File, open.Text, p.order, date, p.text, p.file)
}
