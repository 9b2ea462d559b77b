package key_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/key"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

// textbook is the table once more, as the extension keys tell it: Bowling et al.
// 2016, Oklahoma State, Louisiana State. Each line: spines, cornicles, feet,
// antennae, stripe, patch, head; a dot fits any answer.
var textbook = map[string]string{
	"sorghum aphid":          "no  dark dark dark no  none pale",
	"corn leaf aphid":        "no  dark dark dark no  dark dark",
	"greenbug":               "no  tip  dark dark yes none pale",
	"yellow sugarcane aphid": "yes pale pale pale no  none pale",
	"bird cherry-oat aphid":  "no  .    .    .    no  red  pale",
}

var deciding = []string{"spines", "cornicles", "feet", "antennae", "stripe", "patch", "head"}

func names(species []key.Species) (out []string) {
	for _, s := range species {
		out = append(out, s.Name)
	}
	return out
}

func TestAllFiveSpecies(t *testing.T) {
	require.Len(t, key.Table(), len(textbook))
	for name, row := range textbook {
		t.Run(name, func(t *testing.T) {
			seen := key.Seen{}
			for i, answer := range strings.Fields(row) {
				if answer != "." {
					seen[deciding[i]] = answer
				}
			}
			v, err := key.Judge(seen, true)
			require.NoError(t, err)
			assert.True(t, v.Decided)
			assert.Equal(t, []string{name}, names(v.Fits))
			assert.Len(t, v.RuledOut, 4)
			assert.Empty(t, v.LookAt)
			other, err := key.Judge(seen, false)
			require.NoError(t, err)
			assert.False(t, other.Decided, "only a wingless adult decides")
		})
	}
}

// Every combination of what can be seen or not: what fits is what the textbook
// does not contradict, it is decided if and only if one is left, and the marks
// named to be looked at part those that are left.
func TestEveryCombination(t *testing.T) {
	all := [][]string{}
	for _, m := range key.Marks() {
		if m.Decides {
			answers := []string{key.Unseen}
			for _, a := range m.Answers {
				answers = append(answers, a.Word)
			}
			all = append(all, answers)
		}
	}
	require.Len(t, all, len(deciding))
	ambiguous, combinations := 0, 0
	var each func(i int, seen []string)
	each = func(i int, seen []string) {
		if i < len(all) {
			for _, a := range all[i] {
				each(i+1, append(seen[:i:i], a))
			}
			return
		}
		combinations++
		given := key.Seen{}
		for k, a := range seen {
			given[deciding[k]] = a
		}
		v, err := key.Judge(given, true)
		require.NoError(t, err)
		var want []string
		for _, s := range key.Table() {
			row, fits := strings.Fields(textbook[s.Name]), true
			for k, a := range seen {
				fits = fits && (a == "" || row[k] == "." || row[k] == a)
			}
			if fits {
				want = append(want, s.Name)
			}
		}
		require.Equal(t, want, names(v.Fits), "%v", seen)
		require.Equal(t, len(want) == 1, v.Decided)
		require.Equal(t, len(textbook), len(v.Fits)+len(v.RuledOut))
		require.Equal(t, len(want) > 1, len(v.LookAt) > 0, "%v: two that fit differ in a mark not seen", seen)
		for _, r := range v.RuledOut {
			require.NotEmpty(t, r.By)
		}
		if len(want) > 1 {
			ambiguous++
		}
	}
	each(0, make([]string, len(deciding)))
	assert.Equal(t, 3*4*3*3*3*4*3, combinations)
	t.Logf("%d combinations, %d ambiguous", combinations, ambiguous)
}

func TestColourAndPlaceNeverDecide(t *testing.T) {
	for _, seen := range []key.Seen{{"colour": "yellow"}, {"place": "whorl"}, {"spots": "yes"}, {}} {
		v, err := key.Judge(seen, true)
		require.NoError(t, err)
		assert.Len(t, v.Fits, 5)
		assert.False(t, v.Decided)
		assert.Len(t, v.Remarks, len(seen))
	}
	with, err := key.Judge(key.Seen{"colour": "yellow", "cornicles": "dark"}, true)
	require.NoError(t, err)
	without, err := key.Judge(key.Seen{"cornicles": "dark"}, true)
	require.NoError(t, err)
	assert.Equal(t, without.Fits, with.Fits)
	assert.Equal(t, without.RuledOut, with.RuledOut)
}

func TestJudgeSaysWhy(t *testing.T) {
	v, err := key.Judge(key.Seen{"feet": "dark", "cornicles": "dark", "spines": "no", "patch": "none"}, true)
	require.NoError(t, err)
	require.True(t, v.Decided)
	assert.Equal(t, "sorghum aphid", v.Fits[0].Name)
	assert.Equal(t, []string{"patch none, not dark"}, v.RuledOut[0].By)
	assert.Equal(t, []string{"cornicles all dark, not pale with a dark tip"}, v.RuledOut[1].By)
	assert.Equal(t, []string{"spines smooth, not hairy", "cornicles all dark, not all pale", "feet dark, not pale"}, v.RuledOut[2].By)
	v, err = key.Judge(key.Seen{"stripe": "yes", "spines": "yes"}, true)
	require.NoError(t, err)
	assert.Empty(t, v.Fits)
	assert.False(t, v.Decided)
	for _, bad := range []key.Seen{{"feet": "blue"}, {"wings": "two"}} {
		_, err := key.Judge(bad, true)
		assert.Error(t, err)
	}
}
