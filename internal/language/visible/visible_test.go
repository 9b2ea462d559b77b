package visible_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/visible"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func TestNamesDoNotSteerTheTerminal(t *testing.T) {
	for text, want := range map[string]string{
		"Pivot ä 東\t1\n":            "Pivot ä 東\t1\n",
		"\x1b[2Jall clear":          `\u001b[2Jall clear`,
		"treat\rclear":              `treat\u000dclear`,
		"\u202ekcatta":              `\u202ekcatta`,
		"\u2066a\u2069 \u200fb\x7f": `\u2066a\u2069 \u200fb\u007f`,
		"\u0085\u009b31m":           `\u0085\u009b31m`,
		"\x9b31m":                   "\ufffd31m",

		"a\u200bb\ufeff\u00ad\u2060":     `a\u200bb\ufeff\u00ad\u2060`,
		"\u115f\u1160\u3164\uffa0\u180e": `\u115f\u1160\u3164\uffa0\u180e`,
		"x\U000e0041\U000e007f":          `x\udb40\udc41\udb40\udc7f`,
		"\u200c\u200d\ufe0f\U0001f33e":   "\u200c\u200d\ufe0f\U0001f33e",
	} {
		for cut := range len(text) { // wherever two writes part it
			var out bytes.Buffer
			v := &visible.Writer{To: &out}
			for _, part := range []string{text[:cut], text[cut:]} {
				n, err := v.Write([]byte(part))
				require.NoError(t, err)
				assert.Equal(t, len(part), n)
			}
			assert.Equal(t, want, out.String(), "%q cut at %d", text, cut)
		}
	}
}

func TestJSONSaysTheSameWhenMadeVisible(t *testing.T) {
	var out bytes.Buffer
	name := "a\u202eb\x1b\u0090c\u200b\u3164\U000e0041"
	require.NoError(t, json.NewEncoder(&visible.Writer{To: &out}).Encode(name))
	assert.NotContains(t, out.String(), "\u202e")
	assert.NotContains(t, out.String(), "\U000e0041")
	var back string
	require.NoError(t, json.Unmarshal(out.Bytes(), &back))
	assert.Equal(t, name, back)
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestVisibleTellsOfAFullDisk(t *testing.T) {
	_, err := (&visible.Writer{To: full{}}).Write([]byte("a"))
	assert.EqualError(t, err, "disk full")
}

func TestSeenIsWhatIsWrittenAsItIs(t *testing.T) {
	for text, want := range map[string]bool{"": true, "Añna; Ben": true, "a\u200cb": true, "a\x1bb": false, "a\u202eb": false, "a\u200bb": false, "a\xffb": false} {
		assert.Equal(t, want, visible.Seen(text), "%q", text)
	}
}
