package sampling_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

func TestParseEntry(t *testing.T) {
	type entry = sampling.Entry
	type count = sampling.Count
	cases := []struct {
		line  string
		tally float64
		want  entry
	}{
		{"3/10", 0, entry{sampling.Next, count{3, 10}}},
		{" 3 / 10 # by the pond", 50, entry{sampling.Next, count{3, 10}}},
		{"3 0 12 2", 0, entry{sampling.Next, count{17, 4}}},
		{"50, 49;51\t0", 50, entry{sampling.Next, count{2, 4}}},
		{"+1/5", 0, entry{sampling.More, count{1, 5}}},
		{"+ 7", 0, entry{sampling.More, count{7, 1}}},
		{"Undo", 0, entry{Kind: sampling.Undo}},
		{"END", 0, entry{Kind: sampling.End}},
		{"  # a remark", 0, entry{}},
		{"", 0, entry{}},
	}
	for _, tc := range cases {
		t.Run(tc.line, func(t *testing.T) {
			got, err := sampling.ParseEntry(tc.line, tc.tally)
			require.NoError(t, err)
			assert.Equal(t, tc.want, got)
		})
	}
	for _, line := range []string{"/", "3/", "/10", "3/0", "-1/10", "nan", "inf/2", "three", "+", "1//2", "3 x", ","} {
		_, err := sampling.ParseEntry(line, 0)
		assert.Error(t, err, line)
	}
}

// One number on a plan of shares may be how many units count, two the units besides; three
// and more, or a larger one before a smaller one, are counts on one unit each.
func TestUnsureEntries(t *testing.T) {
	for line, want := range map[string][]string{
		"4": {"4"}, " 0 # gate": {"0"}, "+ 7": {"7"}, "3 10": {"3", "10"}, "3,10": {"3", "10"}, "10 10": {"10", "10"},
		"4/10": nil, "10 3": nil, "0 0": nil, "0 1": nil, "3.5 10": nil, "3 0 12": nil, "+3 10": nil, "": nil, "undo": nil, "+": nil,
	} {
		assert.Equal(t, want, sampling.Unsure(line), line)
	}
}

func FuzzParseEntry(f *testing.F) {
	for _, line := range []string{"3/10", "3 0 12 2", "+1/5", "undo", "1e308 1e308", "0x1p-2/3", "#"} {
		f.Add(line, 50.0)
	}
	f.Fuzz(func(t *testing.T, line string, tally float64) {
		e, err := sampling.ParseEntry(line, tally)
		if err == nil && (e.Kind == sampling.Next || e.Kind == sampling.More) {
			assert.Greater(t, e.Count.Units, 0.0)
			assert.GreaterOrEqual(t, e.Count.Total, 0.0)
		}
	})
}

func TestSpread(t *testing.T) {
	// A hundredth of a thousandth of a degree of latitude is 1.1 m.
	at := func(metres float64) [2]float64 { return [2]float64{-100, 37 + metres/111_000} }
	assert.Equal(t, []int{0, 0, 1, 0, 1, 2}, sampling.Spread([][2]float64{at(0), at(15), at(30), at(5), at(45), at(300)}, 20))
	assert.Equal(t, []int{0, 1}, sampling.Spread([][2]float64{{math.NaN(), 0}, {0, 0}}, 20))
	assert.Empty(t, sampling.Spread(nil, 20))
	assert.Equal(t, []int{0, 1}, sampling.Spread([][2]float64{at(0), at(0)}, 0), "nothing is nearer than 0")
	assert.Equal(t, []int{0, 0}, sampling.Spread([][2]float64{{-180, 10}, {180, 10}}, 1))
}

// Each position belongs to the earliest cluster whose first is nearer, wherever on earth.
func TestSpreadAnywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for _, centre := range [][2]float64{{-100, 37}, {179.9995, -17}, {10, 69}, {0, 0}, {90, -45}} {
		var all, first [][2]float64
		var want []int
		for range 150 {
			p := [2]float64{centre[0] + rng.Float64()*0.002, centre[1] + rng.Float64()*0.001}
			if p[0] > 180 {
				p[0] -= 360
			}
			frame, err := geo.NewFrame(p)
			require.NoError(t, err)
			c := slices.IndexFunc(first, func(q [2]float64) bool { xy := frame.Forward(q); return math.Hypot(xy[0], xy[1]) < 20 })
			if c < 0 {
				c, first = len(first), append(first, p)
			}
			all, want = append(all, p), append(want, c)
		}
		assert.Equal(t, want, sampling.Spread(all, 20), "%v", centre)
		assert.Less(t, len(first), 60)
	}
}

func TestCard(t *testing.T) {
	w := sampling.Wald{Low: .02, High: .10} // first under at 26, see TestPublishedPlans
	card := sampling.Card(w, sampling.Settings{Most: 8, Independent: true}, 5)
	require.Len(t, card, 5)
	assert.Equal(t, sampling.CardLine{Stops: 4, Units: 20, Under: -1, Over: 3, OverNow: true}, card[0])
	assert.Equal(t, sampling.CardLine{Stops: 6, Units: 30, Under: 0, Over: 3, UnderNow: true, OverNow: true}, card[2])
	spread := sampling.Card(w, sampling.Settings{Most: 8}, 5)
	require.Len(t, spread, 1, "no answer before fifteen stops")
	assert.Equal(t, 15, spread[0].Stops)
	for _, line := range card {
		lower, upper := w.Bounds(line.Units)
		assert.GreaterOrEqual(t, line.Over, upper)
		assert.Less(t, line.Over-1, upper)
		if line.UnderNow {
			assert.LessOrEqual(t, line.Under, lower)
		}
	}
}
