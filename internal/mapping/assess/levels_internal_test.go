package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLevels(t *testing.T) {
	for name, c := range map[string]struct {
		pest         string
		stat         Statistic
		set          LevelSettings
		treat, watch float64
		err          string
	}{
		"unnamed pest":              {"", Statistic{}, LevelSettings{}, 40, 12.60, ""},
		"sorghum aphid":             {"Melanaphis  sorghi", Statistic{}, LevelSettings{}, 40, 12.60, ""},
		"its old name":              {"sugarcane_aphid", Statistic{}, LevelSettings{}, 40, 12.60, ""},
		"a level of one's own":      {"", Statistic{}, LevelSettings{TreatAt: 60}, 60, 18.90, ""},
		"a visit after four days":   {"", Statistic{}, LevelSettings{NextVisit: 4.2}, 40, 20, ""},
		"both given":                {"thrips", Statistic{}, LevelSettings{TreatAt: 9, WatchAt: 3}, 9, 3, ""},
		"another with its doubling": {"thrips", Statistic{}, LevelSettings{TreatAt: 8, Doubling: 3.5}, 8, 2, ""},
		"another pest":              {"greenbug", Statistic{}, LevelSettings{}, 0, 0, `no level is known for "greenbug": give --treat-at`},
		"counts per plant":          {"sorghum aphid", Statistic{Unit: "plant"}, LevelSettings{}, 0, 0, "is a mean per leaf, and these are counts per plant: give --treat-at"},
		"another without growth":    {"greenbug", Statistic{}, LevelSettings{TreatAt: 9}, 0, 0, "give --watch-at, or --doubling"},
		"a share":                   {"", Statistic{Tally: 50}, LevelSettings{}, 0, 0, "from the rule that names the tally of 50"},
		"a share without watch":     {"", Statistic{Tally: 50}, LevelSettings{TreatAt: 20}, 0, 0, "give --watch-at"},
		"a share with both":         {"", Statistic{Tally: 50}, LevelSettings{TreatAt: 20, WatchAt: 5}, 20, 5, ""},
		"watch above treat":         {"", Statistic{}, LevelSettings{WatchAt: 41}, 0, 0, "below the treat level 40"},
	} {
		t.Run(name, func(t *testing.T) {
			l, err := levelsFor(c.pest, c.stat, c.set)
			if c.err != "" {
				require.ErrorContains(t, err, c.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, c.treat, l.TreatAt)
			assert.InDelta(t, c.watch, l.WatchAt, 0.005)
			assert.NotEmpty(t, l.TreatSource)
			assert.NotEmpty(t, l.WatchSource)
			assert.Equal(t, c.set.TreatAt == 0, l.Preset)
		})
	}
}
