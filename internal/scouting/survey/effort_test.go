package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Sixty on ten plants are six per plant, and never sixty per leaf; sixty in twenty sweeps are
// thirty in ten.
func TestHowMuchWasLookedAtIsInTheUnitOfTheCounts(t *testing.T) {
	const leavesNot = `column "leaves" says how many leaves were looked at, and counts are asked for `
	for name, c := range map[string]struct {
		header, row, unit string
		units, mean       float64
		err               string
	}{
		"plants":                    {"plants", "10", "plant", 10, 6, ""},
		"another name":              {"Plants checked", "10", "plant", 10, 6, ""},
		"plants beside leaves":      {"leaves,plants", "30,10", "plant", 10, 6, ""},
		"leaves beside plants":      {"leaves,plants", "30,10", "leaf", 30, 2, ""},
		"leaves by another name":    {"leaves_checked", "30", "leaf", 30, 2, ""},
		"sample size":               {"sample_size", "12", "leaf", 12, 5, ""},
		"plants alone, for leaves":  {"plants", "10", "leaf", 0, 0, `column "plants" says how many plants were looked at, and counts are asked for per leaf: give --unit plant, or a column of leaves (--map plants=leaves if it means leaves)`},
		"plants, unit of no moment": {"plants", "10", "", 1, 60, ""},

		"leaves alone, for plants": {"leaves", "10", "plant", 0, 0, leavesNot + `per plant: write how many plants in a column plants (--map "leaves=plants" if that is what it tells)`},
		"leaves alone, for sweeps": {"leaves", "10", "10 sweeps", 0, 0, leavesNot + `in 10 sweeps: write how many sweeps in a column sweeps (--map "leaves=sweeps"`},
		"hojas alone, for stems":   {"hojas", "10", "stem", 0, 0, `column "hojas" says how many leaves were looked at, and counts are asked for per stem`},
		"plants alone, for stems":  {"plants", "10", "stem", 0, 0, `column "plants" says how many plants were looked at, and counts are asked for per stem`},
		"sweeps alone, for leaves": {"sweeps", "10", "leaf", 0, 0, `column "sweeps" says how many sweeps were looked at, and counts are asked for per leaf: give --unit sweep,`},
		"square metres, leaves":    {"m²", "10", "leaf", 0, 0, `give --unit "square metre"`},
		"one unit whatever it is":  {"sample_size", "12", "stem", 12, 5, ""},

		"stems":                        {"stems", "20", "stem", 20, 3, ""},
		"stems in Spanish":             {"Número de tallos", "20", "stem", 20, 3, ""},
		"a thing of one's own":         {"cards", "20", "card", 20, 3, ""},
		"square metres":                {"square_metres", "5", "square metre", 5, 12, ""},
		"square metres, in short":      {"m2", "5", "square metre", 5, 12, ""},
		"sweeps":                       {"sweeps", "20", "sweep", 20, 3, ""},
		"ten sweeps":                   {"sweeps", "10", "10 sweeps", 1, 60, ""},
		"twenty sweeps":                {"No. of sweeps", "20", "10 sweeps", 2, 30, ""},
		"fifteen sweeps":               {"sweeps", "15", "10 sweeps", 1.5, 40, ""},
		"sweeps in Spanish":            {"pases de red", "20", "10 sweeps", 2, 30, ""},
		"sweeps beside leaves":         {"leaves,sweeps", "3,20", "10 sweeps", 2, 30, ""},
		"sweeps, unit of no moment":    {"sweeps", "20", "", 20, 3, ""},
		"samples or sweeps":            {"units", "10", "10 sweeps", 0, 0, `column "units" may count sweeps or samples of 10 sweeps: call it sweeps, and write 10 for each sample`},
		"one sample":                   {"units", "1", "10 sweeps", 1, 60, ""},
		"nothing told":                 {"notes", "", "10 sweeps", 1, 60, ""},
		"a plant a row":                {"plant,leaves", "1,1", "plant", 1, 60, ""},
		"a plant with several leaves":  {"plant,leaves", "1,3", "plant", 0, 0, leavesNot + "per plant"},
		"a leaf a row, and its stems":  {"leaf,stems", "1,3", "leaf", 1, 60, ""},
		"infested leaves of no moment": {"plants,infested_leaves", "10,3", "plant", 10, 6, ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := "stop,longitude,latitude,count," + c.header + "\n1,-101,35,60," + c.row + "\n"
			s, err := survey.Read(given.Table(text), survey.Options{Unit: c.unit})
			if c.err != "" {
				require.ErrorContains(t, err, c.err)
				return
			}
			require.NoError(t, err)
			require.Len(t, s.Stops, 1)
			assert.Equal(t, c.units, s.Stops[0].Units)
			assert.Equal(t, c.mean, s.Stops[0].Mean())
		})
	}
}

// Who obeys is read as he means.
func TestWhatIsOfferedForAnotherUnitIsRead(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,leaves\n1,-101,35,60,20\n", survey.Options{Unit: "10 sweeps", Rename: map[string]string{"leaves": "sweeps"}})
	assert.Equal(t, 30.0, s.Stops[0].Mean())
	s = read(t, "stop,longitude,latitude,count,sweeps\n1,-101,35,60,20\n", survey.Options{Unit: "leaf", Rename: map[string]string{"sweeps": "leaves"}})
	assert.Equal(t, 3.0, s.Stops[0].Mean())
}

// Means are of the unit too.
func TestMeansAreOfTheUnit(t *testing.T) {
	for name, c := range map[string]struct{ header, row, unit, err string }{
		"mean":                 {"mean", "6", "plant", ""},
		"per plant":            {"mean_per_plant", "6", "plant", ""},
		"per ten sweeps":       {"Average per 10 sweeps", "6", "10 sweeps", ""},
		"per leaf, for plants": {"mean_per_leaf", "6", "plant", `column "mean_per_leaf" holds means per leaf, and counts are asked for per plant: call it mean if they are per plant`},
		"beside counts":        {"mean_per_leaf,count,plants", "3,12,2", "plant", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := survey.Read(given.Table("stop,longitude,latitude,"+c.header+"\n1,-101,35,"+c.row+"\n"), survey.Options{Unit: c.unit})
			if c.err != "" {
				require.ErrorContains(t, err, c.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, 6.0, s.Stops[0].Mean())
			assert.Empty(t, s.Problems)
		})
	}
}

// Counts that were read and kept stay what they were; so do leaves where plants are judged by
// them.
func TestKeptCountsAreReadAsTheyWere(t *testing.T) {
	const leaves = "stop,longitude,latitude,count,leaves\n1,-101,35,60,10\n"
	for _, o := range []survey.Options{{Unit: "10 sweeps", KeptUnits: true}, {Unit: "plant", KeptUnits: true}, {Unit: "plant", Parts: true, Shares: true}} {
		assert.Equal(t, 6.0, read(t, leaves, o).Stops[0].Mean(), o.Unit)
	}
	s := read(t, "stop,longitude,latitude,count,units\n1,-101,35,60,10\n", survey.Options{Unit: "10 sweeps", KeptUnits: true})
	assert.Equal(t, 6.0, s.Stops[0].Mean())
}

// What each row is taken as is said in the unit, and a column that may tell better is asked for.
func TestRowsTakenAsOneUnitAreSaid(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\n1,-101,35,60\n", survey.Options{Unit: "10 sweeps"})
	assert.Contains(t, s.Notes, "counts.csv: no column for sweeps: each row is taken as 10 sweeps")
	s = read(t, "stop,longitude,latitude,count\n1,-101,35,60\n", survey.Options{Unit: "stem"})
	assert.Contains(t, s.Notes, "counts.csv: no column for stems: each row is taken as one")
	s = read(t, "stop,longitude,latitude,count,sweeps\n1,-101,35,60,10\n", survey.Options{})
	assert.Contains(t, s.Notes, `counts.csv: columns read: "sweeps" as how many were looked at`)
	const three = "stop,longitude,latitude,count,sweep\n1,-101,35,60,10\n2,-101,36,60,10\n3,-101,37,60,10\n"
	_, err := survey.Read(given.Table(three), survey.Options{Unit: "10 sweeps"})
	assert.ErrorContains(t, err, `column "sweep" may say how many sweeps were looked at, and without them each row counts as 10 sweeps; give --map "sweep=sweeps" if it does`)
}

// Stops of odd effort are told in what was looked at.
func TestOddEffortIsToldInItsThings(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,sweeps\n1,-101,35,6,10\n2,-101,35.1,6,100\n3,-101,35.2,6,10\n", survey.Options{Unit: "10 sweeps"})
	require.Len(t, s.Odd, 1)
	what, _ := s.Odd[0].What()
	assert.Equal(t, "has 100 sweeps, most others about 10: is there a 0 too many?", what)
}
