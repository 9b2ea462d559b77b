package survey_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const threeStops = "stop,longitude,latitude,count,%s\nA,1,2,30,10\nB,1,3,9,10\nC,1,4,0,10\n"

func TestNamesOfALeavesColumn(t *testing.T) {
	for _, header := range []string{
		"Lvs", "Leafs", "lfs", "Leaves looked at", "Nr leaves", "No lvs", "No. of leaves", "leaves checked", "n leaves", "nlvs", "numLeaves",
		"NumLeaves", "# leaves", "Leaves (n)", "leaves_per_stop", "leaves sampled", "Total leaves", "LEAVES COUNTED", "how many leaves",
	} {
		s := read(t, fmt.Sprintf(threeStops, header), survey.Options{})
		assert.Equal(t, 3.0, s.Stops[0].Mean(), header)
		assert.False(t, s.Stops[0].TakenAsOne(), header)
		assert.NotContains(t, fmt.Sprint(s.Notes), "taken as one", header)
	}
	s := read(t, "stop,longitude,latitude,count,leaves,leaves checked\nA,1,2,30,10,12\n", survey.Options{Rename: map[string]string{"leaves checked": "notes"}})
	assert.Equal(t, 3.0, s.Stops[0].Mean())
	s = read(t, "stop,longitude,latitude,count,leaves,leaves seen\nA,1,2,30,10,12\n", survey.Options{})
	assert.Equal(t, 3.0, s.Stops[0].Mean(), "a column's own name goes before")
	_, err := decode(t, "counts.csv", "stop,longitude,latitude,count,lvs,leaves seen\nA,1,2,30,10,12\n", survey.Options{})
	assert.ErrorContains(t, err, `columns "lvs" and "leaves seen" both read as leaves`)
}

func TestAColumnThatMayTellLeavesIsAskedFor(t *testing.T) {
	for _, header := range []string{"Leaves of the middle", "upper lvs", "plants x leaves", "Blätter", "folhas"} {
		_, err := decode(t, "counts.csv", fmt.Sprintf(threeStops, header), survey.Options{})
		require.ErrorContains(t, err, fmt.Sprintf(`column %q may say how many leaves were looked at, and without them each row counts as one leaf; give --map %q if it does, or --map %q if not`,
			header, header+"=leaves", header+"=notes"))
		for to, mean := range map[string]float64{"leaves": 3, "notes": 30} {
			s := read(t, fmt.Sprintf(threeStops, header), survey.Options{Rename: map[string]string{header: to}})
			assert.Equal(t, mean, s.Stops[0].Mean(), "%s as %s", header, to)
			assert.Equal(t, to == "notes", s.Stops[0].TakenAsOne())
		}
	}
}

func TestRowsTakenAsOneAreSaid(t *testing.T) {
	s := read(t, fmt.Sprintf(threeStops, "Checked"), survey.Options{})
	assert.Equal(t, 30.0, s.Stops[0].Mean())
	assert.True(t, s.Stops[0].TakenAsOne())
	assert.Contains(t, s.Notes, `counts.csv: no column for leaves: each row is taken as one; if "Checked" says how many were looked at, give --map "Checked=leaves"`)
	for name, text := range map[string]string{
		"words":           "stop,longitude,latitude,count,leaves wet\nA,1,2,30,yes\nB,1,3,9,no\nC,1,4,0,no\n",
		"other numbers":   "stop,longitude,latitude,count,wind\nA,1,2,30,3\nB,1,3,9,4\nC,1,4,0,4\n",
		"one in all":      "stop,longitude,latitude,count,pass\nA,1,2,30,1\nB,1,3,9,1\nC,1,4,0,1\n",
		"counts of these": "stop,longitude,latitude,count,lower leaves\nA,1,2,30,3\nB,1,3,9,0\nC,1,4,0,0\n",
	} {
		s := read(t, text, survey.Options{})
		assert.Contains(t, s.Notes, "counts.csv: no column for leaves: each row is taken as one", name)
		assert.True(t, s.Stops[0].TakenAsOne(), name)
	}
	for name, text := range map[string]string{
		"a leaf a row": "stop,longitude,latitude,leaf,count,field\nA,1,2,1,30,10\nA,1,2,2,9,10\nB,1,4,1,0,10\n",
		"a mean":       "stop,longitude,latitude,mean,field\nA,1,2,30,10\nB,1,3,9,10\nC,1,4,0,10\n",
	} {
		s := read(t, text, survey.Options{})
		assert.Contains(t, s.Notes, "counts.csv: no column for leaves: each row is taken as one", name)
		assert.False(t, s.Stops[len(s.Stops)-1].TakenAsOne(), name)
	}
	s = read(t, "stop,longitude,latitude,count\nA,1,2,30\nA,1,2,9\nB,1,4,0\n", survey.Options{})
	assert.False(t, s.Stops[0].TakenAsOne(), "several rows of a stop are leaves")
}

func TestTheHintForColumnsNamesLeavesToo(t *testing.T) {
	for header, want := range map[string]string{
		"Lvs":         `such as --map "Bugs=count"; positions`, // known already
		"Checked":     `such as --map "Bugs=count" --map "Checked=leaves"; positions`,
		"Upper leafs": `such as --map "Bugs=count" --map "Upper leafs=leaves"; positions`,
	} {
		_, err := decode(t, "c.csv", fmt.Sprintf("stop,%s,longitude,latitude,Bugs\nA,10,1,2,3\nB,10,1,3,4\nC,10,1,4,4\n", header), survey.Options{})
		assert.ErrorContains(t, err, want, header)
	}
}
