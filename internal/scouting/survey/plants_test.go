package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestPlantShare(t *testing.T) {
	for name, c := range map[string]struct {
		rows  string // plant,leaf,count,leaves
		tally float64
		want  float64
		ok    bool
	}{
		"one plant of two":              {"1,low,60,1\n1,top,0,1\n2,low,49,1\n2,top,3,1\n", 50, 0.5, true},
		"two leaves are not added up":   {"1,low,30,1\n1,top,30,1\n", 50, 0, true},
		"any on any leaf":               {"1,low,0,1\n1,top,1,1\n2,low,0,1\n3,low,0,1\n4,low,0,1\n", 1, 0.25, true},
		"leaves together, surely over":  {"1,,120,2\n2,,3,2\n", 50, 0.5, true},
		"leaves together, surely under": {"1,,49,2\n2,,3,2\n", 50, 0, true},
		"leaves together, unsure":       {"1,,80,2\n2,,3,2\n", 50, 0, false},
		"unsure, but another leaf is":   {"1,,80,2\n1,top,90,1\n2,,3,2\n", 50, 0.5, true},
		"leaves together, any":          {"1,,3,2\n2,,0,2\n", 1, 0.5, true},
		"no plant named":                {",low,60,1\n2,top,0,1\n", 50, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			text := "stop,longitude,latitude,plant,leaf,count,leaves\n"
			for _, row := range strings.Split(strings.TrimSpace(c.rows), "\n") {
				text += "a,10,50," + row + "\n"
			}
			s, err := decode(t, "c.csv", text, survey.Options{})
			require.NoError(t, err)
			require.Len(t, s.Stops, 1, "%v", s.Problems)
			share, ok := s.Stops[0].PlantShare(c.tally)
			assert.Equal(t, c.ok, ok)
			assert.Equal(t, c.want, share)
		})
	}
}
