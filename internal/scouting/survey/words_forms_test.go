package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// What a person writes into a waypoint while walking, and what was meant.
func TestWordsAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]string{
		"12 aphids 10 lvs":                 "12 on 10",
		"12 aphids 10 lf":                  "12 on 10",
		"12 aphids 10 lv":                  "12 on 10",
		"12 aphids, 10 LVS.":               "12 on 10",
		"12aphids 10lvs":                   "12 on 10",
		"12 aphids on 10 leaf":             "12 on 10",
		"12 sorghum aphids, 10 leaves":     "12 on 10",
		"12 bugs on 10 lower leaves":       "12 on 10",
		"bugs 12 lvs 10":                   "12 on 10",
		"bugs 12, leaves 10, boot":         "12 on 10",
		"BUGS 12, LEAVES 10, BOOT":         "12 on 10",
		"12 APHIDS ON 10 LEAVES":           "12 on 10",
		"1 bug, 10 lvs":                    "1 on 10",
		"12/10":                            "12 on 10",
		"12 / 10":                          "12 on 10",
		"12/10 lvs":                        "12 on 10",
		"620 / 10 leaves":                  "620 on 10",
		"12 aphids / 10 leaves":            "12 on 10",
		"12 on 10":                         "12 on 10",
		"12 on 10 boot":                    "12 on 10",
		"12 aphids on 10":                  "12 on 10",
		"aphids 12 on 10 leaves":           "12 on 10",
		"aphids: 12/10":                    "12 on 10",
		"11-50 on 10 leaves":               "23.45 on 10",
		"11 TO 50 aphids on 10 leaves":     "23.45 on 10",
		"<10 aphids on 10 leaves":          "3 on 10",
		"Stop 1 - 12 on 10":                "12 on 10",
		"Stop 1: 12 on 10":                 "12 on 10",
		"A3 - 12 on 10 leaves":             "12 on 10",
		"#3 - 12 on 10 leaves":             "12 on 10",
		"F3 12 aphids 10 leaves":           "12 on 10",
		"row 4 12 aphids 10 leaves":        "12 on 10",
		"2026-07-15 06:40 12/10":           "12 on 10",
		"none on 10 leaves":                "0 on 10",
		"None found on 10 lvs":             "0 on 10",
		"no aphids on 10 leaves":           "0 on 10",
		"zero aphids, 10 leaves":           "0 on 10",
		"aphids none, leaves 10":           "0 on 10",
		"12 aphids on 10 leaves, no wind":  "12 on 10",
		"12 aphids on 10 leaves, wind 5":   "12 on 10",
		"12 aphids 10 leaves 10 m north":   "12 on 10",
		"12 aphids 10 leaves, 4 ladybugs":  "12 on 10",
		"12 aphids on 10 leaves, 5 plants": "12 on 10",
		"<b>12</b> aphids<br>10 leaves":    "12 on 10",
		"<b>aphids</b>&nbsp;12, <i style=\"width:10px\">leaves</i> 10":                                              "12 on 10",
		"<style>td { padding: 4px }</style><table><tr><td>Count</td><td>12</td></tr><tr><td>Leaves</td><td>10</td>": "12 on 10",
		"&lt;10 aphids on 10 leaves": "3 on 10",
		"12 aphids &amp; 10 leaves":  "12 on 10",

		"12 aphids 10 lvx":                       "reads in two ways, as 12 or as 10",
		"12 aphids, 10 lvx":                      "has a number that no known word explains, 10",
		"12 aphids on 10 hojas":                  "12 on 10",
		"aphids 12 folhas 10":                    "has a number that no known word explains, 10",
		"12 aphids on 10 leaves, 3 foo":          "has a number that no known word explains, 3",
		"12 aphids on 10 rows":                   "has a number that no known word explains, 10",
		"12 on 10 stems":                         "gives no count",
		"12 aphids on 10 leaves, 5 on 10":        "gives more than one count",
		"12 aphids on 10 leaves, 10 leaves":      "gives more than one count",
		"5 upper leaves, 5 lower leaves, 9 bugs": "does not give count and leaves in one way",
		"12 / 10 / 8 leaves":                     "gives more than one count",
		"12 aphids/leaf, 10 leaves":              "may be a mean",
		"12 bugs per leaf, 10 leaves":            "may be a mean",
		"aphids 12, leaf 10":                     "does not give count and leaves in one way",
		"leaf 3, aphids 12, leaves 10":           "does not say whether leaf 3 is which or how many",
		"12 aphids on 10 sweeps, 10 leaves":      "has a number that no known word explains, 10",
		"row 4 aphids, 10 leaves":                "does not say whether 4 is the count or the number of the row",
		"Stop 12 on 10":                          "gives no count",
		"12 - 20 10":                             "gives no count",
		"12 10":                                  "gives no count",
		"3/4 mile north":                         "gives no count",
		"none":                                   "gives no count",
		"":                                       "gives no count",
		"10 leaves":                              "gives no count",
		"12 aphids":                              "gives a count, but not on how many leaves",
	} {
		t.Run(text, func(t *testing.T) {
			s := commented(t, text)
			assertAddsUp(t, s)
			if len(s.Stops) < 2 {
				assert.Contains(t, strings.Join(problems(s), "\n"), want)
				assert.Contains(t, strings.Join(problems(s), "\n"), `; write it as "count 12, leaves 10"`)
				return
			}
			assert.Equal(t, want, strings.Replace(fmt.Sprintf("%.2f on %g", s.Stops[1].Total, s.Stops[1].Units), ".00", "", 1))
		})
	}
}

// In the name of a stop two numbers with a stroke may be a day, and one alone its
// number; words are words there too.
func TestWordsInNames(t *testing.T) {
	s := read(t, gpx("<name>Stop 1 - 12 on 10</name>", "<name>Stop 2 - none on 10</name>", "<name>7/15</name>", "<name>4</name>"), survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, 1.2, s.Stops[0].Mean())
	assert.Equal(t, 10.0, s.Stops[1].Units)
	assert.Contains(t, problems(s)[0], `name "7/15": gives no count`)
}

// The same two numbers at every stop may be the day that a program put there.
func TestADayIsNoCount(t *testing.T) {
	s := read(t, gpx("<name>1</name><cmt>7/15</cmt>", "<name>2</name><cmt>7/15</cmt>", "<name>3</name>"), survey.Options{})
	assert.Empty(t, s.Stops)
	assert.Contains(t, problems(s)[0], `cmt "7/15": is 7/15 at every stop: a count, or a day?; write it as "count 12, leaves 10"`)
	assert.Len(t, read(t, gpx("<name>1</name><cmt>7/15</cmt>", "<name>2</name><cmt>9/15</cmt>"), survey.Options{}).Stops, 2)
	assert.Len(t, read(t, gpx("<name>1</name><cmt>0/10</cmt>", "<name>2</name><cmt>0/10</cmt>"), survey.Options{}).Stops, 2)
	assert.Len(t, read(t, gpx("<name>1</name><cmt>14/15</cmt>", "<name>2</name><cmt>14/15</cmt>"), survey.Options{}).Stops, 2)
}

// Plants are units where plants are counted, and said to be none where leaves are.
func TestWordsOfPlants(t *testing.T) {
	points := gpx("<name>1</name><cmt>12 aphids on 5 plants</cmt>", "<name>2</name><cmt>30/5</cmt>", "<name>3</name><cmt>aphids 7, plants 5</cmt>", "<name>4</name><cmt>plant 5, 12 aphids</cmt>")
	s := read(t, points, survey.Options{Unit: "plant"})
	require.Len(t, s.Stops, 3)
	assert.Equal(t, [3]float64{2.4, 6, 1.4}, [3]float64{s.Stops[0].Mean(), s.Stops[1].Mean(), s.Stops[2].Mean()})
	assert.Contains(t, problems(s)[0], `cmt "plant 5, 12 aphids": gives a count, but not on how many plants`)
	_, err := decode(t, "walk.gpx", points, survey.Options{Unit: "leaf"})
	assert.ErrorContains(t, err, "counts are asked for per leaf: give --unit plant")

	both := gpx("<name>1</name><cmt>12 aphids on 10 leaves, 2 plants</cmt>", "<name>2</name><cmt>12 aphids, 10 leaves, 3 plants</cmt>")
	assert.Equal(t, 1.2, read(t, both, survey.Options{Unit: "leaf"}).Stops[0].Mean())
	assert.Equal(t, 4.0, read(t, both, survey.Options{Unit: "plant"}).Stops[1].Mean())

	s = read(t, gpx("<name>1</name><cmt>12 aphids on 10 leaves</cmt>", "<name>2</name><cmt>12 on 5 plants</cmt>"), survey.Options{Unit: "leaf"})
	assert.Len(t, s.Stops, 1)
}

// "No" before a word for the act of counting says that nobody counted.
func TestNoCountIsNoZero(t *testing.T) {
	for text, want := range map[string]string{
		"no count, gate locked on 10 leaves": "says that nobody counted",
		"no count":                           "says that nobody counted",
		"no count 10 leaves":                 "says that nobody counted",
		"no count 10":                        "says that nobody counted",
		"no number, 10 leaves":               "says that nobody counted",
		"No Total on 10 leaves":              "says that nobody counted",
		"zero total, 10 leaves":              "says that nobody counted",
		"nil counts, 10 leaves":              "says that nobody counted",
		"no aphid count, 10 leaves":          "says that nobody counted",
		"no sorghum aphid counts 10 leaves":  "says that nobody counted",
		"count none, leaves 10":              "says that nobody counted",
		"total: nil, leaves 10":              "says that nobody counted",
		"aphids not counted, 10 leaves":      "does not give count and leaves in one way",
		"not counted":                        "gives no count",
		"no aphids, 10 leaves":               "0 on 10",
		"zero bugs on 10 leaves":             "0 on 10",
		"no insects, 10 leaves":              "0 on 10",
		"count zero, leaves 10":              "0 on 10",
		"count 0, leaves 10":                 "0 on 10",
		"bugs nil, leaves 10":                "0 on 10",
	} {
		assertWords(t, text, want)
	}
}

// A sign or a word beside a number that changes what it means is not dropped: it makes
// the class that tables have, or the words are not read.
func TestSignsOfSizeInWords(t *testing.T) {
	const open = ", and the count itself is wanted"
	for text, want := range map[string]string{
		"60% on 10 leaves":                    open,
		"60 % on 10 leaves":                   open,
		"60 percent on 10 leaves":             "gives no count",
		"60 pct aphids, 10 leaves":            open,
		"aphids 60%, leaves 10":               open,
		"12 aphids on 10 leaves, 60% wet":     open,
		"half of 50 on 10":                    open,
		"half 50 aphids on 10 leaves":         open,
		"twice 50 aphids on 10 leaves":        open,
		"up to 50 on 10":                      open,
		"at most 50 on 10":                    open,
		"no more than 50 on 10":               "gives no count",
		"not less than 50 on 10":              open,
		"not over 50 on 10":                   open,
		"<=50 on 10":                          open,
		"≤50 on 10":                           open,
		"over 500 on 10":                      "708.52 on 10",
		"Over 500 aphids on 10 leaves":        "708.52 on 10",
		"more than 500 on 10 leaves":          "708.52 on 10",
		"above 500 on 10 leaves":              "708.52 on 10",
		">500 on 10 leaves":                   "708.52 on 10",
		"at least 500 on 10":                  "707.11 on 10",
		"500 + on 10 leaves":                  "707.11 on 10",
		"500+ on 10":                          "707.11 on 10",
		"less than 10 on 10":                  "3 on 10",
		"fewer than 10 aphids on 10 leaves":   "3 on 10",
		"under 10 on 10 leaves":               "3 on 10",
		"12 aphids over 10 leaves":            "12 on 10",
		"12 aphids on over 10 leaves":         "is not a number",
		"12 aphids on less than 10 leaves":    "is not a number",
		"over 1,200 aphids on 10 leaves":      "belongs to no word",
		"half a mile, 12 aphids on 10 leaves": "12 on 10",
	} {
		assertWords(t, text, want)
	}
}

// A number of plants beside one of leaves that is no larger may be of plants with so
// many leaves each.
func TestPlantsTimesLeavesInWords(t *testing.T) {
	const each = "does not say whether the leaves are all together or on each plant"
	for text, want := range map[string]string{
		"150 bugs 5 plts x 2 lvs":                "150 on 10",
		"150 bugs on 5 plants × 2 leaves":        "150 on 10",
		"120 on 2 leaves x 5 plants":             "120 on 10",
		"120 aphids 5 plants*2 lower leaves":     "120 on 10",
		"120 aphids 5 plants x2 leaves":          "120 on 10",
		"120 aphids, 10 leaves, 5 plants":        "120 on 10",
		"120 aphids on 10 leaves, 5 plants":      "120 on 10",
		"120 aphids, 1 leaf, 1 plant":            "120 on 1",
		"120 aphids 5 plants 2 leaves":           each,
		"120 aphids, 2 leaves, 5 plants":         each,
		"120 aphids on 2 leaves, 5 plants":       each,
		"120 aphids on 5 leaves, 5 plants":       each,
		"aphids 120, leaves 2, plants 5":         each,
		"120 on 5 plants, 2 leaves":              "gives more than one count",
		"120 aphids 3 rows x 5 plants x 2 lvs":   "belongs to no word",
		"120 aphids 5 plants x 2 lvs x 2":        "belongs to no word",
		"120 aphids 5 plants x 2 lvs x 2 plants": "belongs to no word",
		"aphids 120 plants 5 x leaves 2":         "belongs to no word",
		"120 aphids x 10 leaves":                 "belongs to no word",
		"120 aphids 5 plants x 2 lvs, 10 leaves": "does not give count and leaves in one way",
		"120 aphids 1-2 plants x 2 lvs":          "belongs to no word",
		"120 aphids 5 plants x 1-2 lvs":          "belongs to no word",
		"120 aphids 5 plants x 2.5 lvs":          "belongs to no word",
	} {
		assertWords(t, text, want)
	}
	both := gpx("<name>1</name><cmt>150 bugs 5 plts x 2 lvs</cmt>", "<name>2</name><cmt>30 bugs 5 plts x 2 lvs</cmt>")
	assert.Equal(t, 30.0, read(t, both, survey.Options{Unit: "plant"}).Stops[0].Mean())
	assert.Equal(t, 15.0, read(t, both, survey.Options{Unit: "leaf"}).Stops[0].Mean())
}

// assertWords holds what the words of a comment give, "total on units" or why not, against
// what is wanted.
func assertWords(t *testing.T, text, want string) {
	t.Helper()
	s := commented(t, text)
	assertAddsUp(t, s)
	got := strings.Join(problems(s), "\n")
	if len(s.Stops) == 2 {
		got = strings.Replace(fmt.Sprintf("%.2f on %g", s.Stops[1].Total, s.Stops[1].Units), ".00", "", 1)
		assert.Equal(t, want, got, text)
		return
	}
	assert.Contains(t, got, want, text)
}
