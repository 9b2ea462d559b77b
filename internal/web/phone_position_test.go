package web_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/engine"
)

// value of an expression over what a module exports.
func (p phone) value(module, expression string) any {
	p.t.Helper()
	return p.Evaluate(fmt.Sprintf(`import("./main.js").then(({ modules }) => modules["%s"]).then(m => %s)`, module, expression))
}

// What modules work out, without a screen: one phone serves for all of it.
func TestModulesWorkOut(t *testing.T) {
	p := newPhone(t)
	for name, holds := range map[string]func(*testing.T, phone){
		"fixes of a stop": fixesOfAStop, "the way to a stop": wayToAStop, "pasted positions": pastedPositions, "corners as near as they say": cornersAreAsNearAsTheySay,
	} {
		t.Run(name, func(t *testing.T) { holds(t, p) })
	}
}

// Worked by hand: fixes at twice the best accuracy stay, worse ones go, and the others
// count by accuracy⁻²: 1/25 against 1/100 is 0.8 against 0.2. Many alike are no better.
func fixesOfAStop(t *testing.T, p phone) {
	combine := func(fixes string) any { return p.value("position.js", "m.combine("+fixes+")") }
	got := combine(`[{ longitude: 10, latitude: 40, accuracy: 5 }, { longitude: 10.001, latitude: 40.001, accuracy: 10 }, { longitude: 11, latitude: 41, accuracy: 10.01 }]`).(map[string]any)
	assert.InDelta(t, 10.0002, got["longitude"], 1e-12)
	assert.InDelta(t, 40.0002, got["latitude"], 1e-12)
	assert.Equal(t, 5.0, got["accuracy"])
	assert.Equal(t, 2.0, got["fixes"])

	got = combine(`Array.from({ length: 25 }, () => ({ longitude: 10, latitude: 40, accuracy: 7 }))`).(map[string]any)
	assert.Equal(t, map[string]any{"longitude": 10.0, "latitude": 40.0, "accuracy": 7.0, "fixes": 25.0}, got)

	got = combine(`[{ longitude: 179.9998, latitude: 0, accuracy: 3 }, { longitude: -179.9999, latitude: 0, accuracy: 3 }]`).(map[string]any)
	assert.InDelta(t, 179.99995, got["longitude"], 1e-9, "either side of 180°")

	assert.Nil(t, combine(`[]`))
	assert.Nil(t, combine(`[{ longitude: NaN, latitude: 1, accuracy: 3 }]`))
	got = combine(`[{ longitude: 1, latitude: 2, accuracy: 0 }]`).(map[string]any)
	assert.Equal(t, 1.0, got["longitude"], "an accuracy of 0")
	assert.InDelta(t, 4, p.value("position.js", "m.sigma(6.06)"), 1e-12)
}

// Distances and bearings against the frame of the engine, which is another formula.
func wayToAStop(t *testing.T, p phone) {
	for _, from := range [][2]float64{{-101.6, 35.9}, {174, -41}, {20, 64}} {
		for _, by := range [][2]float64{{0.004, 0.001}, {-0.003, 0.006}, {-0.0001, -0.0001}} {
			to := [2]float64{from[0] + by[0], from[1] + by[1]}
			ground := fmt.Sprintf(`{"type":"Polygon","coordinates":[[[%[1]v,%[2]v],[%[3]v,%[2]v],[%[3]v,%[4]v],[%[1]v,%[2]v]]]}`, from[0], from[1], to[0], to[1])
			read, err := engine.Fields(engine.FieldsRequest{Boundary: engine.Source{Name: "way.geojson", Content: []byte(ground)}})
			require.NoError(t, err)
			frame, err := geo.FrameOf(read.Fields[0].Boundary)
			require.NoError(t, err)
			a, b := frame.Forward(from), frame.Forward(to)
			got := p.value("position.js", fmt.Sprintf("m.way({ longitude: %v, latitude: %v }, { longitude: %v, latitude: %v })", from[0], from[1], to[0], to[1])).(map[string]any)
			want := math.Hypot(b[0]-a[0], b[1]-a[1])
			assert.InDelta(t, want, got["metres"], 1e-3*want)
			bearing := math.Mod(math.Atan2(b[0]-a[0], b[1]-a[1])*180/math.Pi+360, 360)
			assert.InDelta(t, bearing, got["bearing"], 0.1)
		}
	}
	for bearing, quarter := range map[string]float64{"0": 0, "22": 0, "23": 1, "180": 4, "337": 7, "338": 0} {
		assert.Equal(t, quarter, p.value("position.js", "m.quarter("+bearing+")"), bearing)
	}
}

func pastedPositions(t *testing.T, p phone) {
	for text, want := range map[string]any{
		"35.9001, -101.6003":      map[string]any{"latitude": 35.9001, "longitude": -101.6003},
		" 35.9001 −101.6003 ":     map[string]any{"latitude": 35.9001, "longitude": -101.6003},
		"35.9001 N, 101.6003 W":   map[string]any{"latitude": 35.9001, "longitude": -101.6003},
		"W101.6003; n35.9001":     map[string]any{"latitude": 35.9001, "longitude": -101.6003},
		"35.9001° S 101.6003° E":  map[string]any{"latitude": -35.9001, "longitude": 101.6003},
		"-101.6003, 35.9001":      nil, // no latitude
		"35.9 N, 101.6":           nil,
		"35.9 N, 36 S":            nil,
		"35.9":                    nil,
		"here":                    nil,
		"91, 10":                  nil,
		"35.9001, -101.6003, 900": nil,
	} {
		assert.Equal(t, want, p.value("position.js", fmt.Sprintf("m.parsePlace(%q)", text)), text)
	}
}
