package interp_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// agreement is the relative difference allowed to any reference.
const agreement = 1e-9

func reference(t testing.TB, name string) testkit.Table {
	return testkit.ReadTable(t, testkit.Testdata(t, "reference", "interpolation", name))
}

func number(t testing.TB, tb testkit.Table, row int, column string) float64 {
	t.Helper()
	v, ok := tb.Number(t, row, column)
	require.True(t, ok, "row %d, %s is empty", row+1, column)
	return v
}

// samplesOf takes the columns x, y, value of a table.
func samplesOf(t testing.TB, tb testkit.Table, x, y, value string) []interp.Sample {
	samples := make([]interp.Sample, tb.Len())
	for i := range samples {
		samples[i] = interp.Sample{X: number(t, tb, i, x), Y: number(t, tb, i, y), Value: number(t, tb, i, value)}
	}
	return samples
}

func fit(t testing.TB, s interp.IDW, samples []interp.Sample) interp.DistancePredictor {
	p, err := s.Fit(samples)
	require.NoError(t, err)
	return p
}

// columns compares one predictor per column with a table of places, and returns
// how many values were compared.
func columns(t *testing.T, tb testkit.Table, samples []interp.Sample, settings map[string]interp.IDW) (compared int) {
	for column, s := range settings {
		p := fit(t, s, samples)
		for row := range tb.Len() {
			want, ok := tb.Number(t, row, column)
			if !ok {
				continue
			}
			x, y := number(t, tb, row, tb.First("x", "x_m")), number(t, tb, row, tb.First("y", "y_m"))
			assert.InDelta(t, want, p.Predict(x, y), agreement*want, "%s, row %d", column, row+1)
			v, _ := p.PredictWithDistance(x, y)
			assert.InDelta(t, want, v, agreement*want, "%s, row %d", column, row+1)
			compared++
		}
	}
	return compared
}

const all = interp.AllNeighbors

// Isaaks & Srivastava 1989, seven samples around 65E, 137N, as remembered;
// estimates by gstat.
func TestWalkerSevenSamples(t *testing.T) {
	samples := samplesOf(t, reference(t, "walker7_samples.csv"), "x", "y", "v")
	results := reference(t, "walker7_results.csv")
	compared := 0
	for row := range results.Len() {
		if results.Text(t, row, "method") != "idw" {
			continue
		}
		s := interp.IDW{Power: number(t, results, row, "power"), Neighbors: all}
		assert.InEpsilon(t, number(t, results, row, "value"), fit(t, s, samples).Predict(65, 137), agreement, "power %g", s.Power)
		compared++
	}
	assert.Equal(t, 7, compared)
}

func TestWalkerQueries(t *testing.T) {
	n := columns(t, reference(t, "walker_470_queries.csv"), samplesOf(t, reference(t, "walker_470.csv"), "X", "Y", "V"), map[string]interp.IDW{
		"idw2_all": {Neighbors: all},
		"idw2_n12": {Plain: true},
		"idw1_n8":  {Power: 1, Neighbors: 8, Plain: true},
		"idw3_r40": {Power: 3, Neighbors: all, Radius: 40},
		"nn":       {Neighbors: 1, Plain: true},
	})
	assert.Equal(t, 150, n)
}

func TestMeuseNodes(t *testing.T) {
	n := columns(t, reference(t, "meuse_idw_50nodes.csv"), meuse(t), map[string]interp.IDW{
		"idw1_all": {Power: 1, Neighbors: all}, "idw1_n12": {Power: 1, Plain: true},
		"idw2_all": {Power: 2, Neighbors: all}, "idw2_n12": {Power: 2, Plain: true},
		"idw3_all": {Power: 3, Neighbors: all}, "idw3_n12": {Power: 3, Plain: true},
		"idw2_r500": {Neighbors: all, Radius: 500}, "idw0.5_all": {Power: 0.5, Neighbors: all},
	})
	assert.Equal(t, 400, n)
}

func meuse(t testing.TB) []interp.Sample {
	return samplesOf(t, reference(t, "meuse_zinc.csv"), "x", "y", "zinc")
}

func TestMeuseLeaveOneOut(t *testing.T) {
	tb, summary := reference(t, "meuse_loo.csv"), reference(t, "loo_summary.csv")
	checkLeaveOneOut(t, meuse(t), tb, map[string]float64{"idw1_pred": 1, "idw2_pred": 2, "idw3_pred": 3})
	for row := range summary.Len() {
		var p float64
		if _, err := fmt.Sscanf(summary.Text(t, row, "case"), "meuse_zinc_idw%g_all", &p); err != nil {
			continue
		}
		checkScore(t, meuse(t), summary, row, p)
	}
}

func checkLeaveOneOut(t *testing.T, samples []interp.Sample, tb testkit.Table, powers map[string]float64) {
	for column, p := range powers {
		left, err := interp.IDW{Power: p, Neighbors: all}.LeaveOneOut(samples)
		require.NoError(t, err)
		for row := range tb.Len() {
			assert.InEpsilon(t, number(t, tb, row, column), left[row].Value, agreement, "%s, row %d", column, row+1)
		}
	}
}

func checkScore(t *testing.T, samples []interp.Sample, summary testkit.Table, row int, power float64) {
	left, err := interp.IDW{Power: power, Neighbors: all}.LeaveOneOut(samples)
	require.NoError(t, err)
	s := interp.NewScore(samples, left)
	assert.EqualValues(t, number(t, summary, row, "n"), s.N)
	for column, got := range map[string]float64{"ME": s.MeanError, "MAE": s.MAE, "RMSE": s.RMSE, "r": s.Correlation} {
		// The mean error is a small difference of large sums.
		assert.InDelta(t, number(t, summary, row, column), got, agreement*s.RMSE, "%s, power %g", column, power)
	}
}

// GDAL 3.6.2 gdal_grid without AVX and SSE, see SOURCE.md. Its values start
// from rounded inputs of its own columns x and y, so places are taken as printed.
func TestGDALColumnsOfMeuse(t *testing.T) {
	n := gdalColumns(t, reference(t, "gdal_grid_meuse_zinc.csv"), meuse(t))
	assert.Greater(t, n, 1000)
}

func gdalColumns(t *testing.T, tb testkit.Table, samples []interp.Sample) (compared int) {
	for column, s := range map[string]interp.IDW{
		"invdist_p2": {Power: 2, Neighbors: all}, "invdist_p1": {Power: 1, Neighbors: all},
		"invdistnn_p2_n12": {Plain: true}, "nearest": {Neighbors: 1, Plain: true},
	} {
		p := fit(t, s, samples)
		for row := range tb.Len() {
			if tb.Text(t, row, "tie_at_12") == "yes" {
				continue
			}
			want, ok := tb.Number(t, row, column)
			if !ok {
				continue
			}
			got := p.Predict(number(t, tb, row, "x"), number(t, tb, row, "y"))
			assert.InDelta(t, want, got, agreement*want, "%s, row %d", column, row+1)
			compared++
		}
	}
	return compared
}

// The 1996 wheat aphids stay in the folder of reference data, whose SOURCE.md
// names their licence.
func TestAphidsOf1996(t *testing.T) {
	loo := testkit.ReadTable(t, testkit.Shared(t, "data", "interpolation", "aphids_loo.csv"))
	samples := samplesOf(t, loo, "x_m", "y_m", "count")
	checkLeaveOneOut(t, samples, loo, map[string]float64{"idw1_loo": 1, "idw2_loo": 2, "idw3_loo": 3})
	summary := reference(t, "loo_summary.csv")
	for row := range summary.Len() {
		var p float64
		if _, err := fmt.Sscanf(summary.Text(t, row, "case"), "aphids_idw%g_all", &p); err == nil {
			checkScore(t, samples, summary, row, p)
		}
	}
	n := columns(t, testkit.ReadTable(t, testkit.Shared(t, "data", "interpolation", "aphids_queries.csv")), samples, map[string]interp.IDW{
		"idw1_all": {Power: 1, Neighbors: all}, "idw2_all": {Power: 2, Neighbors: all}, "idw3_all": {Power: 3, Neighbors: all},
		"idw2_n12": {Plain: true}, "idw2_r75": {Neighbors: all, Radius: 75},
	})
	assert.Greater(t, n, 300)
	n = gdalColumns(t, testkit.ReadTable(t, testkit.Shared(t, "data", "contour-zones", "gdal_grid_aphids.csv")), samples)
	assert.Greater(t, n, 500)
	n = columns(t, testkit.ReadTable(t, testkit.Shared(t, "data", "interpolation", "aphids_idw2_5m_grid.csv")), samples, map[string]interp.IDW{"idw2_all": {Neighbors: all}})
	assert.Equal(t, 40*52, n)
	checkRows(t, testkit.ReadTable(t, testkit.Shared(t, "data", "interpolation", "aphids_idw2_5m_grid.csv")), samples)
}

// checkRows fills the grid of 40 by 52 cells of 5 m that the table lists row by
// row from the south-western one.
func checkRows(t *testing.T, tb testkit.Table, samples []interp.Sample) {
	l := interp.Lattice{X0: -7.5, Y0: -7.5, Cell: 5, Cols: 40, Rows: 52}
	g, err := interp.Fill(t.Context(), fit(t, interp.IDW{Neighbors: all}, samples), l, interp.FillSettings{})
	require.NoError(t, err)
	for i, v := range g.Values {
		x, y := l.Node(i%l.Cols, i/l.Cols)
		require.Equal(t, [2]float64{number(t, tb, i, "x_m"), number(t, tb, i, "y_m")}, [2]float64{x, y})
		assert.InEpsilon(t, number(t, tb, i, "idw2_all"), v, agreement, "row %d", i+1)
	}
}

// Worked by hand: 10, 50, 0 and 200 on the corners of a square of 100 m. In the
// centre all distances are equal, so any power gives the plain mean 65.
func TestFourCorners(t *testing.T) {
	corners := []interp.Sample{{X: 0, Y: 0, Value: 10}, {X: 100, Y: 0, Value: 50}, {X: 0, Y: 100, Value: 0}, {X: 100, Y: 100, Value: 200}}
	for _, c := range []struct{ x, y, p1, p2, p4 float64 }{
		{50, 50, 65, 65, 65},
		{25, 25, 44.4515, 27.9412, 13.2459},
		{75, 75, 101.3098, 139.7059, 185.0362},
		{50, 0, 51.6312, 41.6667, 32.6923},
	} {
		for p, want := range map[float64]float64{1: c.p1, 2: c.p2, 4: c.p4} {
			got := fit(t, interp.IDW{Power: p, Neighbors: all}, corners).Predict(c.x, c.y)
			assert.InDelta(t, want, got, 5e-5, "power %g at %g, %g", p, c.x, c.y)
		}
	}
}
