package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// What people write in the place of a count is answered with what to write; what tells no
// number is asked for.
func TestWordsInThePlaceOfACountAreAnswered(t *testing.T) {
	const none, letter = "write 0 if you looked and found none", "is it the letter O? write "
	for word, want := range map[string]string{
		"clean": none, "-": none, "--": none, "no": none, "null": none, "ningún": "write a number", "limpio": none, "n/a": "write a number", "?": "write a number",
		"no count": "write a number", "none counted": "write a number", "not found": "write a number", "none on 10": "write a number", "few": "write a number", "many aphids": "write a number",
		"O": letter + "0", "1O5": letter + "105", "2o": letter + "20",
		"~1358": "write just 1358", "about 40": "write just 40", "100ish": "write just 100", "ca. 12": "write just 12", "30?": "write just 30",
		"none?": none, "(none)": none, "NONE!": none, "0 found": none, "ninguno visto": none, "no mites": none, "0 thrips": none, "no?": "write a number",
		"a few": "write a number", "lots": "write a number", "~": "write a number", "about": "write a number", "oh": "write a number",
	} {
		found := problems(read(t, "stop,longitude,latitude,count,leaves\nA,1,2,"+word+",10\nB,1,2.001,3,10\n", survey.Options{}))
		if assert.Len(t, found, 1, word) {
			assert.True(t, strings.HasSuffix(found[0], "; "+want), found[0])
		}
	}
	assert.Contains(t, problems(read(t, "stop,longitude,latitude,count\nA,none,2,4\n", survey.Options{}))[0], "write decimal degrees", "a place is no count")
}

// A word for nothing is a zero, which is said once; what may say that nobody looked is not
// (TestWordsInThePlaceOfACountAreAnswered), nor is a blank.
func TestAWordForNothingIsAZero(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves\n"
	for _, word := range []string{"none", "Nil", "zero", "None.", "none found", "no aphids", "No aphids seen", "nil bugs", "0 aphids", "Ninguno", "cero", "ningún pulgón", "sin pulgones"} {
		s := read(t, head+"A,1,2,"+word+",10\nB,1,2.001,3,10\n", survey.Options{})
		assert.Empty(t, s.Problems, word)
		if assert.Len(t, s.Stops, 2, word) {
			assert.Zero(t, s.Stops[0].Mean(), word)
		}
	}
	s := read(t, head+"A,1,2,3,10\nB,1,2.001,none,10\nC,1,2.002,,10\nD,1,2.003,no aphids,10\nE,1,2.004,-,10\nTotal,,,none,30\n", survey.Options{})
	want := `counts.csv: words for none, such as "none" in line 3, are read as a count of 0; rows: 2`
	assert.Equal(t, want, s.Notes[0], "a total that is refused is none of them")
	assert.Equal(t, []string{want}, s.Nones)
	assert.Len(t, s.Unread, 2, "a blank and a dash")
	assert.Len(t, read(t, head+"A,1,2,none,\nB,1,2.001,3,10\n", survey.Options{}).Unread, 1, "on how many leaves is asked still")
	assert.Zero(t, read(t, strings.Replace(head, "count", "mean", 1)+"A,1,2,none,10\nB,1,2.001,3.5,10\n", survey.Options{}).Stops[0].Mean())
	assert.Equal(t, 1200.0, read(t, head+"A,1,2.5,none,10\nB,1,2.001,1200.000,10\n", survey.Options{}).Stops[1].Total, "it has no point, and is no count without one")
}

// A bare word for nothing is what programs write for a blank: where the table tells that it may be
// one, its rows are not read, and what says in so many words that nothing was found is.
func TestABareWordForNothingMayBeABlank(t *testing.T) {
	const fix = "write 0 if you looked and found none"
	rows := func(counts ...string) (out string) {
		out = "stop,longitude,latitude,count,leaves,observer,notes\n"
		for i, c := range counts {
			note := ""
			c, note, _ = strings.Cut(c, "|")
			out += fmt.Sprintf("%d,1,2.%03d,%s,10,A,%s\n", i+1, i, c, note)
		}
		return out
	}
	for name, c := range map[string]struct {
		text   string
		unread int
	}{
		"a few":                      {rows("none", "5", "Nil", "7", "9"), 0},
		"half of the counts":         {rows("none", "5", "none", "7", ""), 1},
		"most of the counts":         {rows("none", "5", "none"), 2},
		"all but blanks":             {rows("none", "", "", ""), 4},
		"beside a 0":                 {rows("none", "5", "0", "7"), 1},
		"beside a 0 with a word":     {rows("none", "5", "0 aphids", "7"), 1},
		"beside a 0.0":               {rows("none", "5.0", "0.0", "7.0"), 1},
		"beside a 0 in another case": {rows("5", "None", "7", "0", "9"), 1},
		"in another column":          {rows("none", "5", "7|None", "9"), 1},
		"within a remark":            {rows("none", "5", "7|none in the north", "9"), 0},
		"another word in a remark":   {rows("none", "5", "7|nothing", "9"), 0},
		"four at the end":            {rows("1", "2", "3", "4", "none", "none", "none", "none"), 0},
		"five at the end":            {rows("1", "2", "3", "4", "5", "nil", "none", "none", "none", "nada"), 5},
		"five with blanks between":   {rows("1", "2", "3", "4", "5", "none", "", "none", "none", "NULL", "none", "none"), 7},
		"five above a total":         {rows("1", "2", "3", "4", "5", "none", "none", "none", "none", "none") + "Total,,,15,100,,\n", 5},
		"in so many words":           {rows("none found", "0", "no aphids", "nothing seen|none", "cero", "zero", "zero"), 0},
	} {
		s := read(t, c.text, survey.Options{})
		assert.Len(t, s.Unread, c.unread, name)
		for _, p := range s.Problems {
			if p.Value != "" && p.Column == "count" && p.Value != "NULL" {
				assert.Equal(t, fix, p.Fix, "%s: %q", name, p.Value)
			}
		}
	}
}

// Rows of the least and the most are none of stops, where they have no place.
func TestExtremesAreNoStops(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves\n"
	walk := "A,1,2,4,10\nB,1,2.001,3,10\n"
	for _, name := range []string{"Max", "min:", "Máximo", "MINIMUM"} {
		s := read(t, head+walk+name+",,,4,\n", survey.Options{})
		assert.Contains(t, strings.Join(problems(s), "\n"), fmt.Sprintf("stop %q: is a sum or mean of other rows", name))
		assert.Empty(t, s.Unread, name)
		assert.Len(t, s.Stops, 2, name)
	}
	assert.Len(t, read(t, head+walk+"Max,1,2.002,4,10\n", survey.Options{}).Stops, 3, "somebody's name")
	assert.Len(t, read(t, strings.ReplaceAll("spot,longitude,latitude,count,leaves\n"+walk, "spot", "Spot #"), survey.Options{}).Stops, 2)
}
