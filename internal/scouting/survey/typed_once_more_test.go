package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// typedOnceTable is a table of stops whose name and place stand on their first row, with the
// rows that are made below the leaves of each, and more below all.
func typedOnceTable(stops, leaves int, below func(counts []int) string, more string) string {
	text := "stop,longitude,latitude,count\n"
	for s := range stops {
		var counts []int
		for k := range leaves {
			counts = append(counts, (5*s+3*k*k)%11+2*s)
			if k == 0 {
				text += fmt.Sprintf("S%d,%.3f,35.9,%d\n", s+1, -101.6+0.001*float64(s), counts[0])
				continue
			}
			text += fmt.Sprintf(",,,%d\n", counts[k])
		}
		if below != nil {
			text += below(counts)
		}
	}
	return text + more
}

func sumOf(counts []int) (sum int) {
	for _, n := range counts {
		sum += n
	}
	return sum
}

// Sums and means that nothing names are left out wherever they stand, and are no stops.
func TestSumsWithoutANameAreLeftOut(t *testing.T) {
	plain := typedOnceTable(8, 4, nil, "")
	whole := read(t, plain, survey.Options{})
	total := 0
	for _, s := range whole.Stops {
		total += int(s.Total)
	}
	mean := float64(total) / 32
	sum := func(c []int) string { return fmt.Sprintf(",,,%d\n", sumOf(c)) }
	average := func(c []int) string { return fmt.Sprintf(",,,%.4g\n", float64(sumOf(c))/4) }
	for name, c := range map[string]struct {
		below func([]int) string
		more  string
		aside int
	}{
		"sum and mean of each":          {func(c []int) string { return sum(c) + average(c) }, "", 16},
		"mean and sum of each":          {func(c []int) string { return average(c) + sum(c) }, "", 16},
		"means with decimals":           {average, "", 8},
		"total at the foot":             {nil, fmt.Sprintf(",,,%d\n", total), 1},
		"total and rounded mean":        {nil, fmt.Sprintf(",,,%d\n,,,%.0f\n", total, mean), 2},
		"total, mean and number":        {nil, fmt.Sprintf(",,,%d\n,,,%.2f\n,,,32\n", total, mean), 3},
		"sums of each, total below all": {sum, fmt.Sprintf(",,,%d\n", total), 9},
		"mean of all by itself":         {nil, fmt.Sprintf(",,,%.2f\n", mean), 1},
	} {
		s := read(t, typedOnceTable(8, 4, c.below, c.more), survey.Options{})
		if assert.Len(t, s.Stops, 8, name) {
			for i := range s.Stops {
				assert.Equal(t, whole.Stops[i].Total, s.Stops[i].Total, name)
			}
		}
		assert.Equal(t, c.aside, s.Tally.SetAside, name)
		assert.Empty(t, s.Unread, name)
	}
	ordinary := "stop,longitude,latitude,count,leaves\nA,-101.6,35.9,12,10\nB,-101.601,35.9,7,10\nC,-101.602,35.9,9,10\n,,,28,\n"
	s := read(t, ordinary, survey.Options{})
	assert.Empty(t, s.Unread, "total of an ordinary table")
	assert.Equal(t, 1, s.Tally.SetAside)
	// Leaves that are alike, or happen to be a mean of those above, are leaves.
	for name, leaf := range map[string]func(s, k int) int{
		"all the same": func(s, _ int) int { return s },
		"few insects":  func(s, k int) int { return (s*7 + k*s*3 + k) % 2 },
	} {
		text := "stop,longitude,latitude,count\n"
		for s := range 12 {
			text += fmt.Sprintf("S%d,%g,35.9,%d\n,,,%d\n,,,%d\n", s, -101.6+0.001*float64(s), leaf(s, 0), leaf(s, 1), leaf(s, 2))
		}
		assert.Equal(t, survey.Tally{Read: 36, Used: 36}, read(t, text, survey.Options{}).Tally, name)
	}
}

// Rows of a stop that lost its name and place are set aside, as one stop.
func TestStopsThatLostTheirName(t *testing.T) {
	lose := func(text string) string { return strings.Replace(text, "S5,-101.596,35.9,", ",,,", 1) }
	s := read(t, lose(typedOnceTable(8, 4, nil, "")), survey.Options{})
	assert.Equal(t, survey.Tally{Read: 32, Used: 28, SetAside: 4}, s.Tally)
	assert.Equal(t, 4., s.Stops[3].Units)
	var blocks []int
	for _, u := range s.Unread {
		blocks = append(blocks, u.Block)
	}
	assert.Equal(t, []int{18, 18, 18, 18}, blocks)
	// More rows than the others, and not as many again: nothing tells where the next begins.
	s = read(t, typedOnceTable(8, 4, nil, ",,,3\n,,,1\n"), survey.Options{})
	assert.Equal(t, survey.Tally{Read: 34, Used: 29, SetAside: 5}, s.Tally)
	// Stops of different numbers of rows, which nothing numbers.
	uneven := "stop,longitude,latitude,count\n"
	for i := range 9 {
		uneven += fmt.Sprintf("S%d,%g,35.9,%d\n%s", i, -101.6+0.001*float64(i), i, strings.Repeat(",,,4\n", i%3+1))
	}
	s = read(t, uneven, survey.Options{})
	assert.Equal(t, 9, s.Tally.Used)
	// A stop with fewer than the others has those.
	few := typedOnceTable(8, 4, nil, "S9,-101.58,35.9,3\n,,,4\n")
	assert.Equal(t, survey.Tally{Read: 34, Used: 34}, read(t, few, survey.Options{}).Tally)
	// Numbered from one again.
	numbered := "stop,longitude,latitude,count,leaf\nA,-101.6,35.9,1,1\n,,,2,2\n,,,7,1\n,,,9,2\n,,,8,1\n,,,4,2\nD,-101.601,35.9,2,1\n"
	blocks = nil
	for _, u := range read(t, numbered, survey.Options{}).Unread {
		blocks = append(blocks, u.Block)
	}
	assert.Equal(t, []int{4, 4, 6, 6}, blocks)
}

// Where places are the names, they may be typed once too.
func TestPlacesTypedOnceWithoutNames(t *testing.T) {
	text := "longitude,latitude,count\n"
	for i := range 6 {
		text += fmt.Sprintf("%g,35.9,%d\n,,4\n,,%d\n", -101.6+0.001*float64(i), i, 2*i)
	}
	s := read(t, text, survey.Options{UnnamedStops: true})
	assert.Equal(t, survey.Tally{Read: 18, Used: 18}, s.Tally)
	assert.Len(t, s.Stops, 6)
}

// The leaves of a stop, or its count, that stand once are of all its rows together.
func TestLeavesThatStandOnceAreOfAllRows(t *testing.T) {
	table := func(header, leaves string, count func(s, k int) string) string {
		text := header + "\n"
		for s := range 6 {
			for k := range 5 {
				first := leaves
				if k > 0 {
					first = ""
				}
				text += fmt.Sprintf("S%d,%g,35.9,%s,%s", s, -101.6+0.001*float64(s), count(s, k), first)
				if strings.HasSuffix(header, ",leaf") {
					text += fmt.Sprintf(",%d", k+1)
				}
				text += "\n"
			}
		}
		return text
	}
	each := func(s, k int) string { return fmt.Sprint(4*s + k) }
	once := func(s, k int) string {
		if k > 0 {
			return ""
		}
		return fmt.Sprint(20 * s)
	}
	const plain, numbered = "stop,longitude,latitude,count,leaves", "stop,longitude,latitude,count,leaves,leaf"
	for name, c := range map[string]struct {
		text string
		used int
	}{
		"as many as rows":           {table(plain, "5", each), 30},
		"as many as numbered rows":  {table(numbered, "5", each), 30},
		"more than rows":            {table(plain, "10", each), 0},
		"more than numbered rows":   {table(numbered, "10", each), 24},
		"the count, above the rows": {table(numbered, "", once), 0},
	} {
		s := read(t, c.text, survey.Options{})
		assert.Equal(t, c.used, s.Tally.Used, name)
		if c.used > 0 {
			assert.Equal(t, float64(c.used/6), s.Stops[0].Units, name)
		}
	}
	// One stop whose other rows were forgotten is no habit.
	s := read(t, plain+"\nA,-101.6,35.9,3,5\nA,-101.6,35.9,3,\nB,-101.601,35.9,3,5\nB,-101.601,35.9,3,4\nC,-101.602,35.9,3,5\nC,-101.602,35.9,3,4\n", survey.Options{})
	assert.Equal(t, 5, s.Tally.Used)
}
