package survey

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A DayOrder says what comes first in dates that can be read both ways, such as
// 07/08/2026, where no date of their file tells. "" leaves the choice to the reader. Files
// may differ: "a.csv=day-first,b.csv=month-first", and one without a name is for all others.
type DayOrder string

// The orders of day and month.
const (
	DayFirst   DayOrder = "day-first"
	MonthFirst DayOrder = "month-first"
)

// UnmarshalText takes one of them, or some by the names of their files.
func (o *DayOrder) UnmarshalText(text []byte) error {
	_, err := DayOrder(text).parts()
	if err == nil {
		*o = DayOrder(text)
	}
	return err
}

// A fileOrder is the order of a file; of all that are not named where file is "".
type fileOrder struct {
	file  string
	order DayOrder
}

func (o DayOrder) parts() (all []fileOrder, err error) {
	for rest := string(o); rest != ""; {
		p, after, is := onePart(rest)
		if !is {
			return nil, errors.New("want day-first or month-first, or FILE= before it where files differ")
		}
		if slices.ContainsFunc(all, func(other fileOrder) bool { return other.file == p.file }) {
			return nil, fmt.Errorf("is given twice for %s", cmp.Or(p.file, "all files"))
		}
		all, rest = append(all, p), after
	}
	return all, nil
}

// onePart cuts off the first order with its file, whose name may hold = and commas.
func onePart(text string) (p fileOrder, rest string, is bool) {
	for at := 0; at >= 0; {
		for _, order := range [...]DayOrder{DayFirst, MonthFirst} {
			if after, is := strings.CutPrefix(text[at:], string(order)); is && (after == "" || after[0] == ',') {
				return fileOrder{strings.TrimSuffix(text[:at], "="), order}, strings.TrimPrefix(after, ","), true
			}
		}
		next := strings.IndexByte(text[at:], '=')
		if next < 0 {
			break
		}
		at += next + 1
	}
	return p, "", false
}

// asked is an order that was asked for; firm where dates of the file that can only be read
// otherwise are an error. The zero value is none.
type asked struct {
	order DayOrder
	firm  bool
}

// of gives each file its order. With firm a name must be that of a file, and an order for
// all is firm where there is one file.
func (o DayOrder) of(names []string, firm bool) ([]asked, error) {
	parts, err := o.parts()
	if err != nil {
		return nil, err
	}
	all := make([]asked, len(names))
	for _, p := range parts {
		at := Correcting{Moved: true}.find(p.file, names)
		for i := range names {
			if p.file == "" && all[i].order == "" {
				all[i] = asked{p.order, firm && len(names) == 1}
			}
		}
		switch {
		case p.file == "":
			continue
		case len(at) > 1:
			return nil, fmt.Errorf("the order of day and month of %s fits several files: %s: write it with its folder, as the counts are given", p.file, filesAt(names, at))
		case len(at) == 0 && firm:
			return nil, fmt.Errorf("the order of day and month is given for %s, and no file of counts is called so; there is %s", quote(p.file), filesAt(names, nil))
		}
		for _, i := range at {
			all[i] = asked{p.order, firm}
		}
	}
	return all, nil
}

func (o DayOrder) slashes() slashes {
	if o == DayFirst {
		return dayFirst
	}
	return monthFirst
}

// An OpenDay is the first date of a file that can be two days, where no date of the file
// tells which, or its dates contradict one another.
type OpenDay struct {
	File, Text           string // without a time of day
	Line                 int
	MonthFirst, DayFirst string // ISO 8601
	Guessed              string // the one it was read as where nobody was asked; "" elsewhere
}

// A telling is a date that can be read in one order alone.
type telling struct {
	text string
	line int // 0 for none
}

// clash is a second date of a file that says the other order than the first did.
type clash struct{ first, second telling }

// read is how open dates are read where an order was asked for. The file's own dates go
// before it: where they say otherwise there is a note, or an error where the order is firm.
func (a asked) read(day, month telling, open OpenDay) (order slashes, note string, err error) {
	order = a.order.slashes()
	told := month
	if day.line > 0 {
		told = day
	}
	if (day.line > 0) != (month.line > 0) && (order == dayFirst) != (day.line > 0) {
		order = dayFirst + monthFirst - order
		if a.firm {
			return order, "", told.refuses(open.File, order)
		}
		if open.Text == "" {
			return order, "", nil
		}
		return order, fmt.Sprintf("%s: dates such as %q are read %s, not %s as asked, since %q can only be read so", open.File, open.Text, order, a.order.slashes(), told.text), nil
	}
	if open.Text == "" {
		return order, "", nil
	}
	return order, fmt.Sprintf("%s: dates such as %q are read %s, as asked", open.File, open.Text, order), nil
}

// refuses is an error on a date that is not as it was asked to be.
func (t telling) refuses(file string, order slashes) error {
	flag := map[slashes]DayOrder{dayFirst: DayFirst, monthFirst: MonthFirst}
	return &geofile.Error{
		File: file, Line: t.line, Msg: fmt.Sprintf("%q can only be read %s, and %s was asked for", t.text, order, flag[dayFirst+monthFirst-order]),
		Hint: fmt.Sprintf("leave the order out, or give %s; with several files, FILE=%s", flag[order], flag[order]),
	}
}
