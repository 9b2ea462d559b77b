package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Sixty on ten plants are six per plant, and never sixty per leaf.
func TestColumnsOfPlantsAreTheEffortOfPlants(t *testing.T) {
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
		"plants alone, for leaves":  {"plants", "10", "leaf", 0, 0, `column "plants" says how many plants were looked at, and counts are asked for per leaf: give --unit plant`},
		"plants, unit of no moment": {"plants", "10", "", 1, 60, ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := "stop,longitude,latitude,count," + c.header + "\n1,-101,35,60," + c.row + "\n"
			s, err := survey.Read(given.Table(text), survey.Options{Unit: c.unit})
			if c.err != "" {
				require.ErrorContains(t, err, c.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, c.units, s.Stops[0].Units)
			assert.Equal(t, c.mean, s.Stops[0].Mean())
		})
	}
}
