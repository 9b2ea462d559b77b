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
	s := read(t, head+"A,1,2,3,10\nB,1,2.001,none,10\nC,1,2.002,,10\nD,1,2.003,no aphids,10\nE,1,2.004,-,10\n", survey.Options{})
	assert.Equal(t, `counts.csv: words for none, such as "none" in line 3, are read as a count of 0; rows: 2`, s.Notes[0])
	assert.Len(t, s.Unread, 2, "a blank and a dash")
	assert.Len(t, read(t, head+"A,1,2,none,\n", survey.Options{}).Unread, 1, "on how many leaves is asked still")
	assert.Zero(t, read(t, strings.Replace(head, "count", "mean", 1)+"A,1,2,none,10\n", survey.Options{}).Stops[0].Mean())
	assert.Equal(t, 1200.0, read(t, head+"A,1,2.5,none,10\nB,1,2.001,1200.000,10\n", survey.Options{}).Stops[1].Total, "it has no point, and is no count without one")
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
