package survey_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A table that is there twice but for some rows, in another order or under other names of
// stops is read once.
func TestACopyIsKnownWhateverWasDoneToIt(t *testing.T) {
	lines := slices.Collect(strings.Lines(walk(12, some, ten)))
	table := strings.Join(lines, "")
	backwards := slices.Clone(lines)
	slices.Reverse(backwards)
	renamed := ""
	for i, line := range lines {
		_, rest, _ := strings.Cut(line, ",")
		renamed += fmt.Sprintf("second %d,%s", i, rest)
	}
	for name, c := range map[string]struct {
		text string
		set  int
	}{
		"but for some rows": {table + strings.Join(lines[:7], ""), 7},
		"backwards":         {table + strings.Join(backwards, ""), 12},
		"sorted":            {table + strings.Join(slices.SortedFunc(slices.Values(lines), func(a, b string) int { return strings.Compare(a[18:], b[18:]) }), ""), 12},
		"in the middle":     {strings.Join(lines[:5], "") + table + strings.Join(lines[5:], ""), 12},
		"renamed":           {table + renamed, 12},
		"once":              {table, 0},
		"four alike":        {table + strings.Join(strings.SplitAfter(renamed, "\n")[:4], ""), 0},
		"five alike":        {table + strings.Join(strings.SplitAfter(renamed, "\n")[:5], ""), 5},
	} {
		s := read(t, slipsHead+c.text, survey.Options{})
		assert.Equal(t, c.set, s.Tally.SetAside, name)
		assert.Empty(t, s.Twice, name)
	}
	// Classes are often alike, and so are leaves in their pairs.
	classes := ""
	for i := range 12 {
		classes += fmt.Sprintf("%d,-101.60%02d,35.9,%d-%d,1,\n", i, i, 10*i+1, 10*i+10)
	}
	assert.Equal(t, 12, read(t, slipsHead+classes+classes, survey.Options{}).Tally.SetAside, "all of them")
	assert.Zero(t, read(t, slipsHead+classes+strings.Replace(classes, "1-10", "11-20", 1), survey.Options{}).Tally.SetAside)
	pairs := ""
	for i, line := range lines {
		pairs += line
		if i%3 > 0 { // of the rest the second leaf differs
			line = strings.Replace(line, fmt.Sprintf(",%d,10,", some(i)), fmt.Sprintf(",%d,10,", some(i)+1), 1)
		}
		pairs += line
	}
	assert.Zero(t, read(t, slipsHead+pairs, survey.Options{}).Tally.SetAside)
}

// Two rows of a stop that an estimate makes alike, and what else was counted does not, are two.
func TestHonestRowsAreNoCopies(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,plants,plants_over,at_or_above\n"
	var over, sides, pasted strings.Builder
	for i := range 20 {
		place := fmt.Sprintf("%d,-101.60%02d,35.9,%d,10,5,", i, i, 10*i)
		fmt.Fprintf(&over, "%s0,50\n", place)
		fmt.Fprintf(&sides, "%[1]s0,50\n%[1]s0,50\n", place)
		fmt.Fprintf(&pasted, "%s0,50\n", place)
	}
	other := strings.ReplaceAll(over.String(), ",0,50", ",4,50")
	for name, c := range map[string]struct {
		text string
		used int
	}{
		"another number of plants over": {over.String() + other, 40},
		"both sides of each stop":       {sides.String(), 40},
		"pasted three times":            {strings.Repeat(pasted.String(), 3), 20},
		"pasted four times":             {strings.Repeat(pasted.String(), 4), 20},
	} {
		assert.Equal(t, c.used, read(t, head+c.text, survey.Options{}).Tally.Used, name)
	}
}

// Stops of a copy whose count was changed are named, with both their lines.
func TestCountsThatDifferInACopyAreNamed(t *testing.T) {
	table := walk(12, some, ten)
	changed := strings.Replace(table, ",9,10,", ",90,10,", 1)
	require.NotEqual(t, table, changed)
	s := read(t, slipsHead+table+changed, survey.Options{})
	assert.Equal(t, 11, s.Tally.SetAside)
	require.Len(t, s.Twice, 1)
	assert.Equal(t, []string{"4", "counts.csv:5", "counts.csv:17"}, []string{s.Twice[0].Stop, s.Twice[0].First, s.Twice[0].Then})
	assert.True(t, s.Twice[0].Of(s.Stops[3]))
	assert.False(t, s.Twice[0].Of(s.Stops[4]))
	assert.Contains(t, strings.Join(problems(s), "\n"), `counts.csv:17: stop "4": stands on line 5 too with another count, and both are used; take out the one that is wrong`)

	s = read(t, slipsHead+table+changed+table, survey.Options{})
	require.Len(t, s.Twice, 1, "the one that differs of three")
	assert.Equal(t, [2]string{"counts.csv:5", "counts.csv:17"}, [2]string{s.Twice[0].First, s.Twice[0].Then})

	two := func(first, second string) *survey.Survey {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(slipsHead + first)}, {Name: "b.csv", Content: []byte(slipsHead + second)}}, survey.Options{})
		require.NoError(t, err)
		return s
	}
	s = two(table, changed)
	require.Len(t, s.Twice, 1, "a corrected copy beside the first")
	assert.Equal(t, "b.csv:5", s.Twice[0].Then)
	assert.Empty(t, two(table, walk(3, ten, ten)).Twice, "a second scout at some stops")
	// A row that was put right below the others, the wrong one left.
	s = read(t, slipsHead+table+strings.Split(changed, "\n")[3]+"\n", survey.Options{})
	require.Len(t, s.Twice, 1)
	assert.Equal(t, "counts.csv:14", s.Twice[0].Then)
	// A second table below the first, of some stops or of all, without times.
	for n, want := range map[int]int{4: 4, 10: 10, 12: 12} {
		var some, all strings.Builder
		for i := range 12 {
			fmt.Fprintf(&all, "%d,-101.60%02d,35.9,%d,10,\n", i, i, 5*i)
			if i < n {
				fmt.Fprintf(&some, "%d,-101.60%02d,35.9,%d,10,\n", i, i, 7*i+3)
			}
		}
		assert.Len(t, read(t, slipsHead+all.String()+some.String(), survey.Options{}).Twice, want)
	}
	later := strings.Replace(strings.Split(changed, "\n")[3], "T06:03", "T08:00", 1)
	assert.Empty(t, read(t, slipsHead+table+later+"\n", survey.Options{}).Twice, "counted again")
}

// A copy that lost its columns of day and observer is one all the same, and the fuller stays;
// blanks beside two days tell of neither.
func TestACopyWithoutDayAndObserverIsKnown(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,date,observer\n"
	rows := func(day, observer string, add int) (text string) {
		for i := range 8 {
			text += fmt.Sprintf("%d,-101.60%02d,35.9,%d,10,%s,%s\n", i, i, 3*i+add, day, observer)
		}
		return text
	}
	full, bare := rows("2026-07-15", "A", 0), rows("", "", 0)
	for name, c := range map[string]struct {
		text string
		set  int
	}{
		"after it":             {full + bare, 8},
		"before it":            {bare + full, 8},
		"without a day":        {full + rows("", "A", 0), 8},
		"of another observer":  {full + rows("", "B", 0), 0},
		"of another day":       {full + rows("2026-07-16", "", 0), 0},
		"other counts":         {full + rows("", "", 1), 0},
		"beside two days":      {full + rows("2026-07-22", "A", 1) + bare, 0},
		"two bare ones and it": {bare + full + bare, 16},
		"both without these":   {bare + bare, 8},
	} {
		s := read(t, head+c.text, survey.Options{})
		assert.Equal(t, c.set, s.Tally.SetAside, name)
		if c.set > 0 && strings.Contains(c.text, "2026") {
			assert.Equal(t, []string{"2026-07-15"}, s.Dates, name)
			for _, stop := range s.Stops {
				assert.Equal(t, []string{"2026-07-15", "A"}, []string{stop.Date, stop.Records[0].Observer}, name)
			}
		}
	}
}
