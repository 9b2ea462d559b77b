//go:build !small

package survey

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written are all texts of up to so many of some pieces.
func written(most int, pieces ...string) []string {
	all, last := []string{""}, []string{""}
	for range most {
		var longer []string
		for _, text := range last {
			for _, piece := range pieces {
				longer = append(longer, text+piece)
			}
		}
		all, last = append(all, longer...), longer
	}
	return all
}

// What is read by hand, so that a phone needs no expressions, is what these expressions mean.
func TestFormsByHandAreThoseOfExpressions(t *testing.T) {
	closed := regexp.MustCompile(`^(\d+)\s*(?:-|–|—|to|\.\.)\s*(\d+)$`)
	open := regexp.MustCompile(`^(?:(\d+)\s*\+|(?:>=|≥)\s*(\d+)|>\s*(\d+))$`)
	under := regexp.MustCompile(`^<\s*(\d+)$`)
	for _, text := range written(5, "7", "12", " ", "-", "to", "..", "+", ">", "=", "≥", "<") {
		if text == "" || text[0] == ' ' || text[len(text)-1] == ' ' || isPlain(text) {
			continue
		}
		want := class{}
		switch c, o, u := closed.FindStringSubmatch(text), open.FindStringSubmatch(text), under.FindStringSubmatch(text); {
		case c != nil:
			want = class{digits(c[1]), digits(c[2])}
		case o != nil && o[3] != "":
			want = class{digits(o[3]) + 1, 2 * (digits(o[3]) + 1)}
		case o != nil:
			want = class{digits(o[1] + o[2]), 2 * digits(o[1]+o[2])}
		case u != nil:
			want = class{0, digits(u[1]) - 1}
		}
		got, is := classOf(text)
		if want.low < want.high {
			require.Equal(t, want, got, text)
		}
		require.Equal(t, want.low < want.high, is, text)
	}

	offset := regexp.MustCompile(`^(?:UTC|GMT)?\s*([+-]?)(\d{1,2})(?::?([0-5]\d))?$`)
	for _, text := range written(5, "UTC", "GMT", " ", "+", "-", ":", "5", "30", "60") {
		sign, hours, minutes := offsetParts(text)
		want := []string{"", "", ""}
		if m := offset.FindStringSubmatch(text); m != nil {
			want = m[1:]
		}
		require.Equal(t, want, []string{sign, hours, minutes}, text)
	}

	order := regexp.MustCompile(`^(?:(.*?)=)??(day-first|month-first)(?:,|$)`)
	for _, text := range written(5, "a.csv", "=", ",", "day-first", "month-first", "é") {
		p, rest, is := onePart(text)
		m := order.FindStringSubmatch(text)
		require.Equal(t, m != nil, is, text)
		if is {
			require.Equal(t, []string{m[1], m[2], text[len(m[0]):]}, []string{p.file, string(p.order), rest}, text)
		}
	}

	zone := regexp.MustCompile(`^(\d{1,2})\s*([NnSs])$`)
	for _, text := range written(4, "1", "14", " ", "N", "s", "é", "X") {
		_, err := ParseUTM(text)
		if !zone.MatchString(text) && text != "" && text[0] != ' ' && text[len(text)-1] != ' ' {
			require.Error(t, err, text)
		}
	}
	for _, zone := range []string{"14N", "14 n", " 1S ", "60\ts"} {
		_, err := ParseUTM(zone)
		assert.NoError(t, err, zone)
	}
}

// A time of day in four digits is read without the expression, and as it reads it.
func TestAPlainClockIsReadAsOthersAre(t *testing.T) {
	for _, text := range []string{"06:11", "00:00", "23:59", "24:00", "12:60", "99:99"} {
		rest, clock, ok := splitClock(text)
		longRest, longClock, longOK := splitClock(text + ":00")
		assert.Equal(t, []any{longRest, longClock, longOK}, []any{rest, clock, ok}, text)
	}
}
