package web_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stand puts the phone somewhere and waits until the page is told.
func (p phone) stand(longitude, latitude, accuracy float64) {
	p.t.Helper()
	p.Stand(longitude, latitude, accuracy)
	p.Await(fmt.Sprintf(`window.fixSeen?.[0] === %v && window.fixSeen[1] === %v`, longitude, latitude))
}

// ring is the made boundary's outer ring.
func (p phone) ring(name string) (ring [][2]float64) {
	p.t.Helper()
	found := p.Evaluate(fmt.Sprintf(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"]]).then(async ([s, l]) => {
		const f = l.fieldsOf(l.stateOf(await (await s.openStore()).all())).find(f => f.name === %q);
		return f ? f.geometry.coordinates.flat(f.geometry.type === "MultiPolygon" ? 1 : 0)[0] : []; })`, name))
	for _, at := range found.([]any) {
		ring = append(ring, [2]float64{at.([]any)[0].(float64), at.([]any)[1].(float64)})
	}
	return ring
}

// point presses the button for a point of an edge, which is the nth.
func (p phone) point(n int) {
	p.t.Helper()
	p.tap("#point")
	p.Await(fmt.Sprintf(`document.getElementById("points").textContent.startsWith("Points: %d,")`, n))
}

func (p phone) choose(id, value string) {
	p.t.Helper()
	p.Evaluate(fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change")); })()`, id, value))
}

func (p phone) write(id, value string) {
	p.t.Helper()
	p.Evaluate(fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change")); })()`, id, value))
}

func (p phone) status(id string) string {
	return p.Text(fmt.Sprintf(`document.getElementById(%q).textContent`, id))
}

// Invented: 902.7 m by 443.8 m on the ellipsoid, 99.0 acres, taken at its corners,
// clockwise, and kept against the clock.
func TestMakeFieldByCorners(t *testing.T) {
	p := newPhone(t)
	p.tap("#make")
	p.shows("make")
	p.choose("make-way", "corners")
	for i, c := range [][2]float64{{-101.6, 35.9}, {-101.6, 35.904}, {-101.59, 35.904}, {-101.59, 35.9}} {
		p.stand(c[0], c[1], 4)
		p.point(i + 1)
	}
	p.Await(`document.getElementById("points").textContent === "Points: 4, 99 ac"`)
	p.pictures("make")
	p.tap("#save-field")
	assert.Contains(t, p.Text(`document.querySelector("#screen .wrong").textContent`), "name")
	p.write("new-name", "North square")
	p.tap("#save-field")
	p.shows("before")
	assert.Equal(t, [][2]float64{{-101.6, 35.9}, {-101.59, 35.9}, {-101.59, 35.904}, {-101.6, 35.904}, {-101.6, 35.9}}, p.ring("North square"))
}

// A centre pivot of 400 m: its corners lie on the circle.
func TestMakeFieldAsPivot(t *testing.T) {
	p := newPhone(t)
	p.tap("#make")
	p.shows("make")
	p.choose("make-way", "pivot")
	p.stand(-101.6, 35.9, 4)
	p.point(1)
	p.stand(-101.6, 35.9036045, 4)
	p.point(2)
	p.write("new-name", "Circle")
	p.tap("#save-field")
	p.shows("before")
	ring := p.ring("Circle")
	require.Greater(t, len(ring), 60)
	for _, at := range ring {
		way := p.value("position.js", fmt.Sprintf("m.way({ longitude: -101.6, latitude: 35.9 }, { longitude: %v, latitude: %v }).metres", at[0], at[1])).(float64)
		assert.InDelta(t, 400, way, 0.1)
	}
}

// Walked round: points hardly apart are one, and an edge that crosses itself is refused.
func TestMakeFieldByWalking(t *testing.T) {
	p := newPhone(t)
	p.tap("#make")
	p.shows("make")
	p.stand(-101.6, 35.9, 4)
	p.point(1)
	at := func(i int) (float64, float64) {
		a := 2 * math.Pi * float64(i) / 20
		return -101.602 + 0.002*math.Cos(a), 35.9 + 0.002*math.Sin(a)
	}
	for i := 1; i < 20; i++ {
		lon, lat := at(i)
		p.stand(lon, lat, 4)
		p.stand(lon+0.000005, lat, 4) // 0.5 m on
	}
	p.Await(`document.getElementById("points").textContent.startsWith("Points: 20,")`)
	p.again() // as after a crash
	p.tap("#make")
	p.shows("make")
	assert.Contains(t, p.status("points"), "Points: 20, ")
	p.write("new-name", "Round")
	p.stand(-101.606, 35.9, 4) // across
	p.Await(`document.getElementById("points").textContent.startsWith("Points: 21,")`)
	p.tap("#save-field")
	assert.Contains(t, p.Text(`document.querySelector("#screen .wrong").textContent`), "crosses itself")
	p.tap("#take-back")
	p.Await(`document.getElementById("points").textContent.startsWith("Points: 20,")`)
	p.tap("#save-field")
	p.shows("before")
	assert.Len(t, p.ring("Round"), 21)
}
