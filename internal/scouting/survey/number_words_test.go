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
		"none": none, "Nil": none, "zero": none, "clean": none, "-": none, "ningún": "write a number", "Ninguno": none, "limpio": none,
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
