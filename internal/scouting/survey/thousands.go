package survey

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// errTwoWays is a number that can be meant in two ways, ten or a thousand times
// apart.
type errTwoWays struct{ big, small string }

func (e errTwoWays) Error() string { return fmt.Sprintf("can be %s or %s", e.big, e.small) }

// whole columns hold numbers of what was found: no fraction can be meant, so a sign
// before three digits parts thousands unless the file uses it for fractions.
func (c column) whole() bool { return c == colCount || c == colGroups }

// few columns hold numbers of what was looked at. Nobody looks at thousands, so a sign
// before three digits is as likely of a fraction, and a thousandfold of leaves would
// make a thousandth of the mean.
func (c column) few() bool {
	return c == colLeaves || c == colEmpty || c == colOver || c == colInfested
}

// numeric columns hold numbers.
func (c column) numeric() bool { return c >= colLongitude && c <= colInfested && c != colWKT }

// blanksInNumbers part thousands: a blank, a no-break one, narrow and thin ones, the
// apostrophes.
const blanksInNumbers = " \u00a0\u202f\u2009'’"

// thousands are the signs of a number in groups of three digits: 1,150 or 12 300.
type thousands struct {
	digits   string // without the signs
	sign     rune   // between the groups; ' for all that never part fractions
	groups   int    // behind the first
	fraction bool   // behind the other of point and comma, noughts alone
}

// groupsOf reads a number that begins with one to three digits, not with 0, and goes
// on in groups of three with one sign between them.
func groupsOf(text string) (g thousands, ok bool) {
	text = strings.TrimPrefix(text, "+")
	lead := 0
	for lead < len(text) && text[lead] >= '0' && text[lead] <= '9' {
		lead++
	}
	if lead < 1 || lead > 3 || lead == len(text) || text[0] == '0' {
		return g, false
	}
	g.digits = text[:lead]
	for rest := text[lead:]; rest != ""; {
		r, size := utf8.DecodeRuneInString(rest)
		tail := rest[size:]
		sign := r
		if strings.ContainsRune(blanksInNumbers, r) {
			sign = '\''
		}
		if g.groups > 0 && sign != g.sign && (r == '.' || r == ',') && strings.Trim(tail, "0") == "" && tail != "" {
			g.fraction = true
			return g, true
		}
		if sign != '\'' && sign != '.' && sign != ',' || g.groups > 0 && sign != g.sign || len(tail) < 3 || !isDigits(tail[:3]) {
			return g, false
		}
		g.sign, g.groups, g.digits, rest = sign, g.groups+1, g.digits+tail[:3], tail[3:]
	}
	return g, true
}

func isDigits(text string) bool {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return false
		}
	}
	return text != ""
}

// marks are the signs of fractions that a table uses where they can be nothing else.
type marks struct{ comma, point bool }

// marksOf looks for a fraction in every column of numbers: 35.9, but not 1.150,
// which may be thousands.
func marksOf(t table, l *layout) (m marks) {
	places := l.placesOf(column.numeric)
	for _, row := range t.Rows {
		for _, p := range places {
			c, i := p.column, p.at
			if i >= len(row.Cells) || t.native(row.Line, i) || t.parted.holds(i) {
				continue
			}
			cell := row.Cells[i]
			comma, point := strings.IndexByte(cell, ','), strings.IndexByte(cell, '.')
			if comma < 0 && (point < 0 || m.point) { // nearly all
				continue
			}
			text := strings.TrimSpace(cell)
			g, grouped := groupsOf(strings.TrimPrefix(text, "-"))
			switch position := c == colLongitude || c == colLatitude; {
			case grouped && (g.groups > 1 || g.fraction): // 1,150,000 and 1,150.00 tell the other sign
				m.comma, m.point = m.comma || g.sign == '.', m.point || g.sign == ','
			case grouped && !position:
			case commaNumber().MatchString(text):
				m.comma = true
			case point >= 0 && isPlain(text):
				m.point = true
			}
			if m.comma && m.point {
				return m
			}
		}
	}
	return m
}

// parseWhole reads a number of things. sure is false where it is read as thousands
// and nothing in the file tells that it is not a fraction.
func (d decimals) parseWhole(text string) (v float64, sure bool, err error) {
	text = strings.TrimSpace(text)
	if len(text) < 5 || isDigits(text) { // nearly all
		v, err = d.parse(text)
		return v, true, err
	}
	g, ok := groupsOf(text)
	if !ok {
		v, err = d.parse(text)
		return v, true, err
	}
	v = digits(g.digits)
	otherwise := g.sign == ',' && d.marks.comma || g.sign == '.' && d.marks.point
	switch {
	case g.sign == '\'':
		return v, true, nil
	case g.fraction || g.groups > 1:
		if otherwise {
			return 0, false, errGrouped
		}
		return v, true, nil
	case otherwise && g.sign == '.' && d.allPoints: // 12.000 among 7.000 and 0.500
		v, err = d.parse(text)
		return v, true, err
	case otherwise:
		return 0, false, errTwoWays{g.digits, strings.Replace(text, ",", ".", 1)}
	case g.sign == ',' && d.marks.point, g.sign == '.' && d.marks.comma:
		return v, true, nil
	}
	return v, false, nil
}

// parseFew reads a number of things looked at. With three digits behind a sign it is
// read only where all counts of the file are written so, as programs do.
func (d decimals) parseFew(text string) (float64, error) {
	text = strings.TrimSpace(text)
	if len(text) < 5 || isDigits(text) || d.allPoints && d.marks.point { // nearly all
		return d.parse(text)
	}
	if g, ok := groupsOf(text); ok && g.groups == 1 && !g.fraction && g.sign != '\'' {
		return 0, errTwoWays{g.digits, strings.Replace(text, ",", ".", 1)}
	}
	return d.parse(text)
}

// A placed column stands at a position in the rows.
type placed struct {
	column column
	at     int
}

// placesOf are the columns of a kind that a table has.
func (l *layout) placesOf(kind func(column) bool) (places []placed) {
	for c := range columns {
		if l.at[c] >= 0 && kind(c) {
			places = append(places, placed{c, l.at[c]})
		}
	}
	return places
}

// thousandsOf notes the first count that is read as thousands.
func thousandsOf(t table, l *layout) string {
	places := l.placesOf(column.whole)
	for _, row := range t.Rows {
		for _, p := range places {
			if p.at >= len(row.Cells) || len(row.Cells[p.at]) < 5 || t.native(row.Line, p.at) {
				continue
			}
			text := strings.TrimSpace(row.Cells[p.at])
			if isDigits(text) {
				continue
			}
			if _, grouped := groupsOf(text); !grouped {
				continue
			}
			if v, _, err := l.parseWhole(text); err == nil && v == math.Trunc(v) && v >= 1000 {
				return fmt.Sprintf("%s: numbers such as %q are read as thousands, %.0f", t.File, text, v)
			}
		}
	}
	return ""
}

// pointsInAll reports whether every count of a table is written with a fraction, as
// programs do that print 12.000.
func pointsInAll(t table, l *layout) bool {
	some := false
	for _, row := range t.Rows {
		text := l.text(row, colCount)
		if text == "" || classLike(text) || l.isZero(text) {
			continue
		}
		if !strings.Contains(text, ".") {
			return false
		}
		some = true
	}
	return some
}

func classLike(text string) bool {
	_, is := classOf(text)
	return is
}
