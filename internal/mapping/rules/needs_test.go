package rules_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// Sampling as its sources tell it: 5 plants of 2 leaves at 4 places (Texas A&M AgriLife;
// Alabama 2015); 30 heads on 40 acres (Elliott et al. 2014, J. Econ. Entomol.
// 107:846–853), so 93 on 124 and 8 at each of 12 stops.
func TestNeedsOfRules(t *testing.T) {
	b := published(t)
	for name, c := range map[string]struct {
		rule, stage string
		stops       int
		acres       float64
		columns     []rules.Column
		how         string
	}{
		"a mean per leaf": {"sorghum-aphid-mean-40", "boot", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"leaves", "leaves", "10"}}, "at each stop 5 plants, 2 leaves a plant: one fully green lower leaf and the top leaf"},
		"a tally": {"sorghum-aphid-kansas", "boot", 12, 124,
			[]rules.Column{{"plants", "plants", "5"}, {"plants_over", "plants with a leaf at or above 101", ""}, {"at_or_above", "", "101"}}, "at each stop 5 plants, 2 leaves a plant"},
		"any": {"sorghum-aphid-high-plains", "2", 12, 124,
			[]rules.Column{{"plants", "plants", "5"}, {"plants_over", "plants with the pest", ""}, {"at_or_above", "", "1"}}, "at each stop 5 plants"},
		"a sign": {"sorghum-aphid-north-carolina", "dough", 12, 124,
			[]rules.Column{{"plants", "plants", "5"}, {"plants_over", "plants with honeydew and colonies", ""}, {"at_or_above", "", "honeydew and colonies"}}, "at each stop 5 plants"},
		"a share besides": {"soybean-aphid", "", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"plants", "plants", "10"}, {"infested", "plants with the pest", ""}}, "at each stop 10 plants (how many is our choice, no source)"},
		"a measure": {"canola-flea-beetle", "", 12, 124,
			[]rules.Column{{"mean", "% of leaf area eaten, mean", ""}, {"plants", "plants", "10"}}, "at each stop 10 plants"},
		"heads by the area": {"sorghum-headworm", "", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"heads", "heads", "8"}}, "at each stop 8 heads; 30 heads on 40 acres in all (Elliott et al. 2014"},
		"a small field needs as many": {"sorghum-headworm", "", 12, 5,
			[]rules.Column{{"count", "count", ""}, {"heads", "heads", "3"}}, "at each stop 3 heads"},
		"sweeps, and no source": {"canola-lygus", "late pod", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"sweeps", "sweeps", "10"}}, "at each stop 10 sweeps (how many is our choice, no source)"},
		"square metres": {"grasshopper-field", "", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"square_metres", "square metres", "10"}}, "at each stop 10 square metres"},
		"sweeps": {"canola-seedpod-weevil", "", 12, 124,
			[]rules.Column{{"count", "count", ""}, {"sweeps", "sweeps", "10"}}, "at each stop 10 sweeps (trade press"},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := b.Named(c.rule)
			require.NoError(t, err)
			n, err := r.Needs(c.stage, c.stops, c.acres)
			require.NoError(t, err)
			assert.Equal(t, c.columns, n.Columns)
			assert.Contains(t, n.How, c.how)
			assert.Equal(t, 1, n.Rows)
		})
	}
}

func TestHowCountsAreTaken(t *testing.T) {
	b := published(t)
	for name, want := range map[string][3]string{
		"sorghum-aphid-kansas":  {"at least 4 places, 5 plants at each, 2 leaves a plant", "one fully green lower leaf and the top leaf, from boot on the leaf below the flag leaf in its place", "Texas A&M AgriLife Extension; Alabama Cooperative Extension 2015"},
		"sorghum-headworm":      {"30 heads on 40 acres", "", "Elliott et al. 2014, J. Econ. Entomol. 107:846–853"},
		"canola-seedpod-weevil": {"at least 10 places, 10 sweeps at each", "", "trade press quoting the researcher"},
		"cotton-aphid":          {},
	} {
		r, err := b.Named(name)
		require.NoError(t, err)
		assert.Equal(t, want, [3]string{r.Counting(), r.Sampling.Which, r.Sampling.Source})
	}
}

func TestNeedsWithoutANumber(t *testing.T) {
	b := published(t)
	r, err := b.Named("sorghum-aphid-high-plains")
	require.NoError(t, err)
	_, err = r.Needs("9", 12, 124)
	var none *rules.NoNumber
	assert.True(t, errors.As(err, &none))
	_, err = r.Needs("", 12, 124)
	assert.ErrorContains(t, err, "give --stage")
	own, err := rules.Decode("own.toml", []byte("[[rule]]\nname = \"a\"\npest = \"b\"\nsource = \"c\"\nunit = \"leaf\"\nstatistic = \"share\"\nbands = [{value = 20, tally = 5}]\n"))
	require.NoError(t, err)
	n, err := own.Rules[0].Needs("", 4, 10)
	require.NoError(t, err)
	assert.Equal(t, 10, n.Rows, "a share of leaves wants each leaf by itself")
	assert.Equal(t, []rules.Column{{"leaf", "leaf", ""}, {"count", "count", ""}}, n.Columns)
}
