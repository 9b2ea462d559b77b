package observer_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/observer"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// practised is an eye that sees 60 % of what is there, with noise, by 40 pairs.
func practised(r *rand.Rand) observer.File {
	var pairs []observer.Pair
	for range 40 {
		counted := math.Pow(10, 2.8*r.Float64()+0.2)
		pairs = append(pairs, observer.Pair{Observer: "Scout A", Counted: counted, Estimated: seen(r, counted)})
	}
	return observer.FileOf(observer.Calibrate(pairs))
}

func seen(r *rand.Rand, counted float64) float64 {
	return 0.6 * counted * math.Pow(10, 0.12*r.NormFloat64())
}

func read(t testing.TB, rows string) *survey.Survey {
	t.Helper()
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves,observer\n"+rows), survey.Options{})
	require.NoError(t, err)
	return s
}

func TestCorrectedSurvey(t *testing.T) {
	file := practised(rand.New(rand.NewPCG(1, 1)))
	given := read(t, "1,-100,37,60,1,scout a\n1,-100,37,0,1,scout a\n2,-100.01,37,60,1,scout B\n3,-100.02,37,90,1,\n4,-100.03,37,500000,1,Scout A\n5,-100.04,37,0,10,Scout A\n")
	got, stops := observer.Correct(given, file)
	require.Len(t, stops, 5)
	assert.Equal(t, 60.0, given.Stops[0].Total, "what was given stays")
	assert.Equal(t, 60.0, given.Stops[0].Records[0].Total)
	assert.InDelta(t, 60/0.6, got.Stops[0].Total, 12)
	assert.Equal(t, got.Stops[0].Records[0].Total, got.Stops[0].Total)
	assert.True(t, stops[0].Corrected)
	assert.Less(t, stops[0].Low, got.Stops[0].Mean())
	assert.Greater(t, stops[0].High, got.Stops[0].Mean())
	assert.Equal(t, 30.0, stops[0].Before)
	for _, i := range []int{1, 2} {
		assert.Equal(t, given.Stops[i].Total, got.Stops[i].Total)
		assert.Equal(t, given.Stops[i].Records[0].Total, got.Stops[i].Records[0].Total)
		assert.False(t, stops[i].Corrected)
		assert.Zero(t, stops[i].CV)
	}
	assert.Zero(t, got.Stops[4].Total, "an empty leaf is seen to be empty")
	notes := strings.Join(got.Notes, "\n")
	assert.Contains(t, notes, "scout a: 4 rows corrected by calibration")
	assert.Contains(t, notes, "1 of them beyond what was practised")
	assert.Contains(t, notes, "scout B: 1 rows not corrected: no calibration")
	assert.Contains(t, notes, "rows without an observer: 1 rows not corrected")
}

// The bounds of a stop with its rows: exact rows stay, a class widens by its ends, the
// eye about them, and many leaves less than one.
func TestBoundsReachTheStop(t *testing.T) {
	file := practised(rand.New(rand.NewPCG(1, 1)))
	single := ""
	for i := range 9 {
		single += fmt.Sprintf("6,-100.06,37,%d,1,scout a\n", 56+i)
	}
	got, stops := observer.Correct(read(t, "1,-100,37,60,1,scout a\n2,-100.01,37,11-50,1,B\n3,-100.02,37,11-50,1,scout a\n4,-100.03,37,60,1,B\n"+
		"5,-100.04,37,60,1,scout a\n5,-100.04,37,400,9,B\n"+single+"7,-100.07,37,0,1,scout a\n8,-100.08,37,<10,1,scout a\n"), file)
	require.Len(t, stops, 8)
	for i, s := range got.Stops {
		low, high := s.Bounds()
		assert.Equal(t, [2]float64{stops[i].Low, stops[i].High}, [2]float64{low, high}, s.Name)
		assert.LessOrEqual(t, low, s.Mean(), s.Name)
		assert.GreaterOrEqual(t, high, s.Mean(), s.Name)
	}
	width := func(i int) float64 { return stops[i].High / stops[i].Low }
	one := math.Exp(2 * 1.96 * math.Sqrt(math.Log1p(stops[0].CV*stops[0].CV)))
	assert.InEpsilon(t, one, width(0), 1e-12)
	assert.Equal(t, observer.CorrectedStop{Before: math.Sqrt(550), Low: 11, High: 50}, stops[1], "a class, not corrected")
	fit := file.Find("Scout A")
	half := math.Exp(1.96 * math.Sqrt(math.Log1p(stops[2].CV*stops[2].CV)))
	assert.InEpsilon(t, fit.Correct(11).Count/half, stops[2].Low, 1e-12)
	assert.InEpsilon(t, fit.Correct(50).Count*half, stops[2].High, 1e-12)
	assert.Equal(t, observer.CorrectedStop{Before: 60, Low: 60, High: 60}, stops[3], "nothing widens it")
	assert.InEpsilon(t, (400+stops[0].Low)/10, stops[4].Low, 1e-12, "the exact rows stay")
	assert.Less(t, width(5), math.Sqrt(one), "leaves err apart")
	assert.Equal(t, [2]float64{}, [2]float64{stops[6].Low, stops[6].High})
	assert.Zero(t, stops[7].Low)
	assert.Greater(t, stops[7].High, 9.0)
}

// Of many stops with known truth, about 95 % lie within their interval: the eye's
// noise of each leaf and the error of the line together.
func TestIntervalsHoldTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	held, all := 0, 0
	for range 150 {
		file := practised(r)
		var rows strings.Builder
		var truths []float64
		for stop := range 5 {
			truth := 0.0
			for range 4 {
				counted := math.Pow(10, 1.5*r.Float64()+1.2)
				truth += counted / 4
				fmt.Fprintf(&rows, "%d,%.2f,37,%.0f,1,Scout A\n", stop, -100+float64(stop)/100, math.Round(seen(r, counted)))
			}
			truths = append(truths, truth)
		}
		_, stops := observer.Correct(read(t, rows.String()), file)
		for i, s := range stops {
			all++
			if s.Low <= truths[i] && truths[i] <= s.High {
				held++
			}
		}
	}
	t.Logf("%d of %d", held, all)
	assert.GreaterOrEqual(t, held, all*92/100)
	assert.Less(t, held, all*985/1000)
}

// What a row that was not read tells of its count is corrected as if it had been read.
func TestRowsNotReadAreCorrectedToo(t *testing.T) {
	file := practised(rand.New(rand.NewPCG(1, 1)))
	as := read(t, "1,-100,37,60,1,scout a\n")
	want, _ := observer.Correct(as, file)
	given := read(t, "1,-100,37,1,1,scout a\n2,,37,60,1,scout a\n3,-100,37,60,,scout a\n4,-100,37,x,1,scout a\n5,,37,60,1,scout B\n")
	got, _ := observer.Correct(given, file)
	require.Len(t, got.Unread, 4)
	mean := want.Stops[0].Mean()
	require.NotEqual(t, 60.0, mean)
	for i, bounds := range [][2]float64{{mean, mean}, {0, mean}, {0, math.Inf(1)}, {60, 60}} {
		assert.Equal(t, bounds, [2]float64{got.Unread[i].Least, got.Unread[i].Most}, "row %d", i+2)
	}
	assert.Equal(t, mean, got.Unread[0].Row.Total)
	assert.Equal(t, 60.0, given.Unread[0].Least, "what was given stays")
}
