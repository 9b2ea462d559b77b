package demo_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/testdata/demo"
)

const header = "stop,longitude,latitude,count,leaves,time,observer,pest,stage,accuracy_m,notes"

func read(t *testing.T, name string) []byte {
	t.Helper()
	data, err := fs.ReadFile(demo.Files(), name)
	require.NoError(t, err)
	return data
}

// rows returns a survey's rows below the header, one map per row. Row i stands
// on line i + 2: no field of the demonstration data holds a line break.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	data := read(t, name)
	assert.Equal(t, header, string(data[:bytes.IndexByte(data, '\n')]))
	records, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		out = append(out, row)
	}
	return out
}

func TestFilesAreTheFiveNamedOnes(t *testing.T) {
	var names []string
	entries, err := fs.ReadDir(demo.Files(), ".")
	require.NoError(t, err)
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	assert.Equal(t, []string{"README.md", "field.geojson", "week1.csv", "week2.csv", "week3.csv"}, names)
}

func TestSurveysReadAsDescribed(t *testing.T) {
	cases := []struct {
		name, date, stage string
		stops, zeros, hot int // hot: stops over 40 per leaf
	}{
		{"week1.csv", "2026-07-08", "3", 50, 14, 0},
		{"week2.csv", "2026-07-15", "4", 54, 3, 4},
		{"week3.csv", "2026-07-22", "5", 59, 0, 11},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			stops := map[string]bool{}
			zeros, hot := 0, 0
			faulty := faults(rows(t, tc.name))
			for i, row := range rows(t, tc.name) {
				stops[row["stop"]] = true
				assert.Equal(t, tc.stage, row["stage"])
				assert.Equal(t, "sorghum aphid", row["pest"])
				assert.Contains(t, []string{"scout A", "scout B"}, row["observer"])
				when, err := time.Parse(time.RFC3339, row["time"])
				require.NoError(t, err)
				assert.Equal(t, tc.date, when.Format(time.DateOnly))
				clock := when.Format("15:04")
				assert.True(t, "06:10" <= clock && clock <= "09:30", "stop %s at %s", row["stop"], clock)
				leaves, err := strconv.Atoi(row["leaves"])
				require.NoError(t, err)
				assert.True(t, 8 <= leaves && leaves <= 12, "stop %s: %d leaves", row["stop"], leaves)
				if faulty[i+2] {
					continue
				}
				count, err := strconv.Atoi(row["count"])
				require.NoError(t, err)
				if count == 0 {
					zeros++
				}
				if count > 40*leaves {
					hot++
				}
			}
			assert.Len(t, stops, tc.stops)
			assert.True(t, 45 <= len(stops) && len(stops) <= 60)
			assert.Equal(t, tc.zeros, zeros, "stops without an aphid")
			assert.Equal(t, tc.hot, hot, "stops over 40 per leaf")
		})
	}
}

// faults finds the lines that a careful reader of a survey would stop at.
func faults(rows []map[string]string) map[int]bool {
	found := map[int]bool{}
	seen := map[string]bool{}
	for i, row := range rows {
		lon, _ := strconv.ParseFloat(row["longitude"], 64)
		lat, _ := strconv.ParseFloat(row["latitude"], 64)
		_, err := strconv.Atoi(row["count"])
		away := math.Abs(lon+101.6) > 0.01 || math.Abs(lat-35.9) > 0.01
		if err != nil || away || seen[row["stop"]] {
			found[i+2] = true
		}
		seen[row["stop"]] = true
	}
	return found
}

func TestFaultsAreThoseTheReadmeLists(t *testing.T) {
	listed := map[int]bool{}
	for _, match := range regexp.MustCompile(`(?m)^\| (\d+) \| \d+ \|`).FindAllSubmatch(read(t, "README.md"), -1) {
		line, err := strconv.Atoi(string(match[1]))
		require.NoError(t, err)
		listed[line] = true
	}
	require.Len(t, listed, 3)
	assert.Equal(t, listed, faults(rows(t, "week3.csv")))
	assert.Empty(t, faults(rows(t, "week1.csv")))
	assert.Empty(t, faults(rows(t, "week2.csv")))
}

type collection struct {
	Type     string
	Features []struct {
		Properties struct{ Name string }
		Geometry   struct {
			Type        string
			Coordinates [][][2]float64
		}
	}
}

// hectares is the signed area of a ring, positive counter-clockwise, in the
// plane that touches the ellipsoid at 35.9° N: metres per degree from the radii
// of curvature of WGS 84 there (90277 east, 110957 north, computed).
func hectares(ring [][2]float64) float64 {
	var twice float64
	for i := 1; i < len(ring); i++ {
		x0, y0 := (ring[i-1][0]+101.6)*90277, (ring[i-1][1]-35.9)*110957
		x1, y1 := (ring[i][0]+101.6)*90277, (ring[i][1]-35.9)*110957
		twice += x0*y1 - x1*y0
	}
	return twice / 2e4
}

func TestFieldsAreAsDescribed(t *testing.T) {
	var got collection
	require.NoError(t, json.Unmarshal(read(t, "field.geojson"), &got))
	require.Equal(t, "FeatureCollection", got.Type)
	require.Len(t, got.Features, 2)
	pivot, corner := got.Features[0], got.Features[1]
	assert.Equal(t, "Pivot", pivot.Properties.Name)
	assert.Equal(t, "Corner block", corner.Properties.Name)
	require.Len(t, pivot.Geometry.Coordinates, 2, "outer ring and pond")
	require.Len(t, corner.Geometry.Coordinates, 1)

	// Signs are the winding RFC 7946 §3.1.6 asks for.
	assert.InDelta(t, 50.24, hectares(pivot.Geometry.Coordinates[0]), 0.02)
	assert.InDelta(t, -0.15, hectares(pivot.Geometry.Coordinates[1]), 0.01)
	assert.InDelta(t, 9.05, hectares(corner.Geometry.Coordinates[0]), 0.02)

	on := map[[2]float64]bool{}
	for _, vertex := range pivot.Geometry.Coordinates[0] {
		on[vertex] = true
	}
	shared := 0
	for _, vertex := range corner.Geometry.Coordinates[0] {
		if on[vertex] {
			shared++
		}
	}
	assert.GreaterOrEqual(t, shared, 22, "the arc's vertices are common")
}
