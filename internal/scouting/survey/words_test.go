package survey_test

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// commented is a stop whose comment is the text, beside one that tells a count on ten
// leaves, so that the file has both columns.
func commented(t *testing.T, text string) *survey.Survey {
	var b strings.Builder
	require.NoError(t, xml.EscapeText(&b, []byte(text)))
	return read(t, gpx("<name>1</name><cmt>aphids 7, leaves 10</cmt>", "<name>2</name><cmt>"+b.String()+"</cmt>"), survey.Options{})
}

func TestWordsAreReadOneWay(t *testing.T) {
	for text, want := range map[string]string{ // total on units, or what the refusal says
		"12 aphids\n10 leaves":                   "12 on 10",
		"30 aphids 10 leaves":                    "30 on 10",
		"10 leaves: 12 aphids":                   "12 on 10",
		"count 400, 10 leaves":                   "does not give count and leaves in one way",
		"12 aphids 2026-07-15, 10 leaves":        "12 on 10",
		"aphids: 12; leaves: 10":                 "12 on 10",
		"aphids=12,leaves=10":                    "12 on 10",
		"aphids 12 leaves 10":                    "12 on 10",
		"Count\n12\nLeaves\n10":                  "12 on 10",
		"ca. 50 aphids on 10 leaves":             "50 on 10",
		"~50 aphids on 10 leaves":                "50 on 10",
		"aphids ~50, leaves 10":                  "50 on 10",
		"12 aphids, 3 thrips, 10 leaves":         "12 on 10",
		"3 thrips 12 aphids 10 leaves":           "12 on 10",
		"thrips 3, aphids 12, leaves 10":         "12 on 10",
		"leaves 10 thrips 3 aphids 12":           "12 on 10",
		"10 leaves 12 aphids 5 thrips":           "12 on 10",
		"12 aphids, 15 insects, 10 leaves":       "does not give count and leaves in one way",
		"1 aphid on 1 leaf":                      "1 on 1",
		"0 aphids 10 leaves":                     "0 on 10",
		"count 12 leaves":                        "does not give count and leaves in one way",
		"aphids 12 10 leaves":                    "does not give count and leaves in one way",
		"12 aphids 10":                           "reads in two ways, as 12 or as 10",
		"10 leaves 12 aphids 5":                  "reads in two ways, as 12 on 10 or as 5 on 12",
		"12 aphids, 10":                          "has a number that belongs to no word",
		"12 + 3 aphids on 10 leaves":             "has a number that belongs to no word",
		"10 or 12 aphids on 5 leaves":            "has a number that belongs to no word",
		"12±3 aphids on 10 leaves":               "has a number that belongs to no word",
		"12x10 aphids on 10 leaves":              "has a number that belongs to no word",
		"12,5 aphids on 10 leaves":               "has a decimal comma, and this file decimal points",
		"aphids 12,10 leaves":                    "does not give count and leaves in one way",
		"1,200 aphids on 10 leaves":              "1200 on 10",
		"-12 aphids on 10 leaves":                "is negative",
		"12 aphids per leaf, 10 leaves":          "may be a mean",
		"mean 1.2, leaves 10":                    "may be a mean",
		"aphids 12:30, leaves 10":                "does not give count and leaves in one way",
		"06:40 12 aphids 10 leaves":              "12 on 10",
		"15 Jul 2026 12 aphids on 10 leaves":     "12 on 10",
		"Jul 15, 2026: 12 aphids on 10 leaves":   "12 on 10",
		"15.07.2026 6:40 am aphids 12 leaves 10": "12 on 10",
		"2026-07-15T06:40:10Z":                   "gives no count; write it as",
		"7/15/2026 12 aphids 10 leaves":          "12 on 10",
		"row A12 aphids 3 leaves 10":             "3 on 10",
		"row A12: 3 aphids on 10 leaves":         "3 on 10",
		"stop #4: 3 aphids on 10 leaves":         "3 on 10",
		"plot 7: aphids 3, leaves 10":            "3 on 10",
		"11-50 aphids on 10 leaves":              "23.45 on 10",
		"aphids 50+, leaves 10":                  "70.71 on 10",
		"10 m north of the post, wet":            "gives no count; write it as",
		"12":                                     "gives a count, but not on how many leaves; write it as",
	} {
		t.Run(text, func(t *testing.T) {
			s := commented(t, text)
			assertAddsUp(t, s)
			if len(s.Stops) < 2 {
				assert.Contains(t, strings.Join(problems(s), "\n"), want)
				return
			}
			assert.Equal(t, want, strings.Replace(fmt.Sprintf("%.2f on %g", s.Stops[1].Total, s.Stops[1].Units), ".00", "", 1))
		})
	}
}

// A number alone is a count with or without its date, and a class too.
func TestNumbersAlone(t *testing.T) {
	s := read(t, gpx("<name>1</name><cmt>12</cmt>", "<name>2</name><cmt>2026-07-15 40</cmt>", "<name>3</name><cmt>11-50</cmt>", "<name>4</name><cmt>12 10</cmt>"), survey.Options{})
	require.Len(t, s.Stops, 3)
	assert.Equal(t, [2]float64{12, 40}, [2]float64{s.Stops[0].Total, s.Stops[1].Total})
	assert.Equal(t, 11.0, s.Stops[2].Records[0].Low)
}

// The fix of words that cannot be read says how to write them, and what it says
// is read.
func TestTheFixOfWordsIsRead(t *testing.T) {
	s := commented(t, "30 aphids 10")
	require.Len(t, s.Problems, 1)
	assert.Equal(t, `counts.csv:3 "2": cmt "30 aphids 10": reads in two ways, as 30 or as 10; write it as "count 12, leaves 10", the count on all leaves together`, s.Problems[0].String())
	assert.Equal(t, 1.2, commented(t, "count 12, leaves 10").Stops[1].Mean())
}

func FuzzWords(f *testing.F) {
	for _, text := range []string{"12 aphids\n10 leaves", "aphids=12,leaves=10", "row A12 #3 ≈11-50 aphids 15 Jul 2026", "\xff\xfe1",
		"12/10", "Stop 1 - 12 on 10", "none on 10 leaves", "<b>12</b> aphids<br>10&nbsp;leaves &amp; 3 thrips", "12 aphids 10 lvx", "bugs 12, leaves 10, boot", "7/15", "12 aphids/leaf", "leaf 3: 12 aphids", "/", "on 10", "#1 - 12 on"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var b strings.Builder
		if xml.EscapeText(&b, []byte(text)) != nil {
			t.Skip()
		}
		s, err := survey.Read(given.Table(gpx("<name>1</name><cmt>"+b.String()+"</cmt>", "<name>2</name><cmt>aphids 7</cmt>")), survey.Options{})
		if err == nil {
			assertAddsUp(t, s)
		}
	})
}
