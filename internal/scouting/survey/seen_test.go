package survey_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const at = "stop,longitude,latitude,"

func TestPlantsOverATally(t *testing.T) {
	for name, c := range map[string]struct {
		header, rows string
		tally        float64
		want         float64
		ok           bool
	}{
		"a table without counts":       {"plants,plants_over", "20,5\n", 50, 0.25, true},
		"of the tally that is given":   {"plants,plants_over,at_or_above", "20,5,50\n", 50, 0.25, true},
		"of another tally":             {"plants,plants_over,at_or_above", "20,5,101\n", 50, 0, false},
		"all of them":                  {"plants,plants_over", "20,20\n", 50, 1, true},
		"none of them":                 {"plants,plants_over", "20,0\n", 50, 0, true},
		"two rows":                     {"plants,plants_over", "10,5\na,10,50,30,5\n", 50, 0.25, true},
		"German and Spanish":           {"plants,pflanzen_darüber,melaza", "10,5,2\n", 50, 0.5, true},
		"a count left blank":           {"plants,count,plants_over", "10,,5\n", 50, 0.5, true},
		"infested, for any":            {"plants,infested", "10,4\n", 1, 0.4, true},
		"infested, for fifty":          {"plants,infested", "10,4\n", 50, 0, false},
		"beside plants that are named": {"plant,count,plants_over", "1,60,\na,10,50,2,10,\n", 50, 0.5, true},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := decode(t, "c.csv", at+c.header+"\na,10,50,"+c.rows, survey.Options{Unit: "plant", Shares: true})
			require.NoError(t, err)
			require.Len(t, s.Stops, 1, "%v", s.Problems)
			share, ok := s.Stops[0].PlantShare(c.tally)
			assert.Equal(t, c.ok, ok)
			if c.ok {
				assert.Equal(t, c.want, share)
			}
		})
	}
}

func TestSignShare(t *testing.T) {
	for name, c := range map[string]struct {
		header, rows, sign string
		want               float64
		ok                 bool
	}{
		"plants over with the sign":      {"plants,plants_over,at_or_above", "10,3,Honeydew and  colonies\n", survey.HoneydewAndColonies, 0.3, true},
		"plants over, not given of what": {"plants,plants_over", "10,3\n", survey.HoneydewAndColonies, 0.3, true},
		"plants over a tally":            {"plants,plants_over,at_or_above", "10,3,50\n", survey.HoneydewAndColonies, 0, false},
		"a row for each plant":           {"plant,honeydew,colonies", "1,yes,x\na,10,50,2,yes,no\na,10,50,3,0,0\na,10,50,4,sí,JA\n", survey.HoneydewAndColonies, 0.5, true},
		"leaves of a plant":              {"plant,leaf,honeydew,colonies", "1,low,yes,no\na,10,50,1,top,no,yes\n", survey.HoneydewAndColonies, 1, true},
		"no honeydew":                    {"plants,honeydew,colonies", "10,0,6\n", survey.HoneydewAndColonies, 0, true},
		"honeydew on all":                {"plants,honeydew,colonies", "10,10,6\n", survey.HoneydewAndColonies, 0.6, true},
		"which have both is not given":   {"plants,honeydew,colonies", "10,6,6\n", survey.HoneydewAndColonies, 0, false},
		"honeydew alone":                 {"plants,honeydew,colonies", "10,6,6\n", "honeydew", 0.6, true},
		"one sign blank":                 {"plants,honeydew,colonies", "10,6,\n", survey.HoneydewAndColonies, 0, false},
		"yes, of several":                {"plants,honeydew,colonies", "10,yes,10\n", survey.HoneydewAndColonies, 0, false},
		"a scale":                        {"plants,honeydew,colonies", "10,heavy,10\n", survey.HoneydewAndColonies, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := decode(t, "c.csv", at+c.header+"\na,10,50,"+c.rows, survey.Options{Unit: "plant", Shares: true})
			require.NoError(t, err)
			require.Len(t, s.Stops, 1, "%v", s.Problems)
			share, ok := s.Stops[0].SignShare(c.sign)
			assert.Equal(t, c.ok, ok)
			if c.ok {
				assert.Equal(t, c.want, share)
			}
		})
	}
}

// What cannot be meant is said with its place, and nothing of it is counted.
func TestPlantsAndSignsThatCannotBeMeant(t *testing.T) {
	for name, c := range map[string]struct {
		header, row, want string
		shares, used      bool
	}{
		"more than were looked at":   {"plants,plants_over", "10,11", `c.csv:2: plants_over "11": is more than the 10 plants looked at; correct the one that is wrong`, true, false},
		"as many as looked at":       {"plants,plants_over", "10,10", "", true, true},
		"a part of a plant":          {"plants,plants_over", "10,2.5", `plants_over "2.5": is no whole number of plants`, true, false},
		"below nothing":              {"plants,plants_over", "10,-1", `plants_over "-1": is no whole number of plants`, true, false},
		"a word":                     {"plants,plants_over", "10,some", `plants_over "some": is not a number`, true, false},
		"of how many":                {"plants,plants_over", "many,3", `plants "many": is not a number`, true, false},
		"of plants nobody tells":     {"count,leaves,plants_over", "30,20,3", `plants_over "3": does not say of how many plants; not used; add a column plants`, false, true},
		"nothing is entered":         {"plants,plants_over", "10,", `plants_over "": nothing is entered; write on how many plants, 0 if there were none`, true, false},
		"beside a count, for a mean": {"count,leaves,plants,plants_over", "30,20,10,11", `plants_over "11": is more than the 10 plants looked at; not used; correct the one that is wrong`, false, true},
		"beside a count, for shares": {"count,plants,plants_over", "30,10,11", `is more than the 10 plants looked at; correct`, true, false},
		"honeydew on too many":       {"count,leaves,plants,honeydew", "30,20,10,11", `honeydew "11": is more than the 10 plants looked at; shown, not counted`, false, true},
		"a scale of honeydew":        {"count,leaves,plants,honeydew", "30,20,10,light", `honeydew "light": is no number of plants, nor yes or no; shown, not counted`, false, true},
		"yes, of how many":           {"count,leaves,plants,colonies", "30,20,10,yes", `colonies "yes": does not say on how many of the 10 plants; shown, not counted`, false, true},
	} {
		t.Run(name, func(t *testing.T) {
			opts := survey.Options{Shares: c.shares}
			if c.shares {
				opts.Unit = "plant"
			}
			s, err := decode(t, "c.csv", at+c.header+"\na,10,50,"+c.row+"\n", opts)
			require.NoError(t, err)
			if c.want == "" {
				assert.Empty(t, s.Problems)
			} else {
				require.NotEmpty(t, s.Problems)
				assert.Contains(t, s.Problems[0].String(), c.want)
				assert.Len(t, s.Problems, 1)
			}
			if c.used {
				require.Len(t, s.Stops, 1, "%v", s.Problems)
				return
			}
			assert.Empty(t, s.Stops)
			require.Len(t, s.Unread, 1)
			assert.False(t, s.Unread[0].Counted() && math.IsNaN(s.Unread[0].Row.Total))
		})
	}
}

// Two columns for how many were over are never chosen between; a table of shares is none
// of counts.
func TestTablesOfPlantsThatAreRefused(t *testing.T) {
	_, err := decode(t, "c.csv", at+"plants,plants_over,plants_above\na,10,50,10,3,4\n", survey.Options{Unit: "plant", Shares: true})
	assert.ErrorContains(t, err, `columns "plants_over" and "plants_above" both read as plants_over`)
	_, err = decode(t, "c.csv", at+"plants,plants_over\na,10,50,10,3\n", survey.Options{Unit: "plant"})
	assert.ErrorContains(t, err, "no column for count")
}

// Predators and mummies are kept as they were entered.
func TestEnemiesAreKept(t *testing.T) {
	s, err := decode(t, "c.csv", at+"count,leaves,predators,mumien\na,10,50,30,10,12,few\nb,10,51,3,10,,0\n", survey.Options{})
	require.NoError(t, err)
	require.Len(t, s.Stops, 2)
	seen := s.Stops[0].Records[0].Seen
	require.NotNil(t, seen)
	assert.Equal(t, survey.Sign{Text: "12", Number: 12}, seen.Predators)
	assert.Equal(t, "few", seen.Mummies.Text)
	assert.True(t, math.IsNaN(seen.Mummies.Number))
	assert.False(t, s.Stops[1].Records[0].Seen.Predators.Entered())
	assert.Zero(t, s.Stops[1].Records[0].Seen.Mummies.Number)
	for _, n := range s.Notes {
		assert.NotContains(t, n, "not used")
	}
}
