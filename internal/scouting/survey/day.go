package survey

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// ParseDay reads a day as people write it, 14 July 2026 or 7/17/2026, and returns
// it as ISO 8601 has it. It is for what one person types at one place: where month
// and day could each come first, and mean two days, nothing is chosen and the error
// names both. With dots the day comes first.
func ParseDay(text string) (string, error) {
	text = strings.TrimSpace(text)
	month, day := "", ""
	if len(text) <= longestTime {
		month, day = readDay(text)
	}
	switch {
	case month == "" && day == "":
		return "", fmt.Errorf("%q is no day: write it as 2026-07-15, or 15 July 2026", shorten(text))
	case month != "" && day != "" && month != day:
		return "", fmt.Errorf("%q can be %s or %s: write %s or %s", text, spelled(month), spelled(day), month, day)
	case month != "":
		return month, nil
	}
	return day, nil
}

// spelled writes an ISO day so that nobody mistakes the month.
func spelled(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("2 January 2006")
}

// monthNames by how they begin, without accents: English, German, Spanish, French,
// Portuguese. Each name is at least three letters and begins so.
var monthNames = [12][]string{
	{"jan", "january", "januar", "janner", "ene", "enero", "janv", "janvier", "janeiro"},
	{"feb", "february", "februar", "febrero", "fev", "fevr", "fevrier", "fevereiro"},
	{"mar", "march", "marz", "maerz", "mrz", "marzo", "mars", "marco"},
	{"apr", "april", "abr", "abril", "avr", "avril"},
	{"may", "mai", "mayo", "maio"},
	{"jun", "june", "juni", "junio", "juin", "junho"},
	{"jul", "july", "juli", "julio", "juil", "juillet", "julho"},
	{"aug", "august", "ago", "agosto", "aout"},
	{"sep", "sept", "september", "septiembre", "setiembre", "septembre", "set", "setembro"},
	{"oct", "october", "okt", "oktober", "octubre", "octobre", "out", "outubro"},
	{"nov", "november", "noviembre", "novembre", "novembro"},
	{"dec", "december", "dez", "dezember", "dic", "diciembre", "decembre", "dezembro"},
}

var monthOf = sync.OnceValue(func() *map[string]int {
	m := map[string]int{}
	for i, names := range monthNames {
		for _, name := range names {
			m[name] = i + 1
		}
	}
	return &m
})

// besides are words of a date that tell nothing: days of the week, articles, the
// endings of ordinals.
var besides = sync.OnceValue(func() *map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("mon monday tue tues tuesday wed wednesday thu thur thurs thursday fri friday sat saturday sun sunday " +
		"mo montag di dienstag mi mittwoch do donnerstag fr freitag sa samstag sonnabend so sonntag " +
		"lun lunes martes mie miercoles jue jueves vie viernes sab sabado dom domingo " +
		"lundi mardi mercredi jeu jeudi ven vendredi sam samedi dim dimanche " +
		"st nd rd th er of the de del le den am on at um el") {
		m[w] = true
	}
	return &m
})

// plainWord is a word in small letters without accents.
func plainWord(word string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(word))
}

// A dayPart is a number or the name of a month in a date.
type dayPart struct {
	digits string
	month  int
	sign   byte // what stands before it: one of / - . or a blank
}

// dayParts cuts a date into numbers and at most one month; ok is false where
// anything else is in it.
func dayParts(text string) (parts []dayPart, ok bool) {
	sign, months := byte(' '), 0
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		j := i
		switch {
		case r >= '0' && r <= '9':
			for j < len(text) && text[j] >= '0' && text[j] <= '9' {
				j++
			}
			parts = append(parts, dayPart{digits: text[i:j], sign: sign})
			sign = ' '
		case unicode.IsLetter(r):
			for j < len(text) {
				r, n := utf8.DecodeRuneInString(text[j:])
				if !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) {
					break
				}
				j += n
			}
			word := plainWord(text[i:j])
			if m := (*monthOf())[word]; m > 0 {
				months++
				parts = append(parts, dayPart{month: m, sign: sign})
			} else if !(*besides())[word] {
				return nil, false
			}
			sign = ' '
		default:
			if !strings.ContainsRune(" ,./-'’\u00a0\u202f", r) {
				return nil, false
			}
			if strings.ContainsRune("./-", r) {
				sign = text[i]
			}
			j += n
		}
		i = j
	}
	return parts, months <= 1 && len(parts) <= 3
}

// readDay reads a date in both orders of month and day, as ISO 8601; they are the
// same where the text leaves no choice, and "" where it is no day so.
func readDay(text string) (monthFirst, dayFirst string) {
	parts, ok := dayParts(text)
	if !ok {
		return "", ""
	}
	if len(parts) == 1 && len(parts[0].digits) == 8 {
		d := parts[0].digits
		day := isoDay(d[:4], small(d[4:6]), d[6:])
		return day, day
	}
	if len(parts) != 3 {
		return "", ""
	}
	a, b, c := parts[0], parts[1], parts[2]
	if i := slices.IndexFunc(parts, func(p dayPart) bool { return p.month > 0 }); i >= 0 {
		day := namedMonth(parts, i)
		return day, day
	}
	switch {
	case b.sign != c.sign || b.sign == ' ':
	case len(a.digits) == 4:
		day := isoDay(a.digits, monthNumber(b.digits), c.digits)
		return day, day
	case b.sign == '.':
		day := isoDay(c.digits, monthNumber(b.digits), a.digits)
		return day, day
	case b.sign == '/' || len(c.digits) == 4: // 26-07-15 may begin with its year
		return isoDay(c.digits, monthNumber(a.digits), b.digits), isoDay(c.digits, monthNumber(b.digits), a.digits)
	}
	return "", ""
}

// namedMonth reads a date whose part i names the month: 14 July 2026, July 14, 2026
// or 2026 July 14.
func namedMonth(parts []dayPart, i int) string {
	m := parts[i].month
	switch {
	case i == 0:
		return isoDay(parts[2].digits, m, parts[1].digits)
	case i == 1 && len(parts[0].digits) == 4:
		return isoDay(parts[0].digits, m, parts[2].digits)
	case i == 1:
		return isoDay(parts[2].digits, m, parts[0].digits)
	}
	return ""
}

// likelyDay is the one day that three numbers can mean, with the year last after day and
// month in either order, or first before month and day; "" where there is none, or more
// than one.
func likelyDay(text string) (only string) {
	if len(text) > longestTime {
		return ""
	}
	rest, _, ok := splitClock(text)
	parts, numbers := dayParts(rest)
	if !ok || !numbers || len(parts) != 3 {
		return ""
	}
	a, b, c := parts[0].digits, parts[1].digits, parts[2].digits
	if a == "" || b == "" || c == "" {
		return ""
	}
	for _, day := range []string{isoDay(a, monthNumber(b), c), isoDay(c, monthNumber(b), a), isoDay(c, monthNumber(a), b)} {
		if day == "" || day == only {
			continue
		}
		if only != "" {
			return ""
		}
		only = day
	}
	return only
}

func monthNumber(digits string) int {
	if len(digits) > 2 {
		return 0
	}
	return small(digits)
}

// isoDay is a day within living memory and a little beyond; "" for none. Years of
// two digits are those from 1969 on, as in POSIX.
func isoDay(year string, month int, day string) string {
	y := 0
	switch len(year) {
	case 4:
		y = 100*small(year[:2]) + small(year[2:])
	case 2:
		if y = 2000 + small(year); y >= 2069 {
			y -= 100
		}
	}
	if y < 1900 || y > 2200 || len(day) > 2 || month < 1 || month > 12 {
		return ""
	}
	t := time.Date(y, time.Month(month), small(day), 0, 0, 0, 0, time.UTC)
	if t.Day() != small(day) || t.Month() != time.Month(month) { // the month has no such day
		return ""
	}
	return t.Format(time.DateOnly)
}
