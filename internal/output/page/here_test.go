package page_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// where stands the mark of one's own place on the map, "" where there is none.
const where = `(() => { const m = document.querySelector("svg.plot .here"); return m ? m.getAttribute("cx") + " " + m.getAttribute("cy") : ""; })()`

// ask presses the button and waits for the answer of the device.
func ask(b *testkit.Browser) (said, marked string) {
	b.Evaluate(`document.querySelector('[data-do="here"]').click()`)
	b.Await(told + `.startsWith("asking") === false`)
	return b.Text(told), b.Text(where)
}

// Who stands at a stop is marked on it: stops are drawn through the frame of the
// field, the mark by the behaviour's own formula.
func TestBrowserMarksWhereOneStands(t *testing.T) {
	b := testkit.StartBrowser(t)
	b.LetLocate("granted")
	path := saved(t, "week2")
	open(b, path, 1280, 900)
	for i, s := range demo(t, "week2").Fields[0].Stops {
		if i%6 != 0 {
			continue
		}
		b.Stand(s.Longitude, s.Latitude, 6.6)
		said, marked := ask(b)
		assert.Equal(t, "You are at the blue dot, to within 7 m.", said)
		var got, want [2]float64
		_, err := fmt.Sscan(marked, &got[0], &got[1])
		require.NoError(t, err, marked)
		_, err = fmt.Sscan(b.Text(fmt.Sprintf(`(() => { const s = document.querySelector('circle[data-key="%d"]'); return s.getAttribute("cx") + " " + s.getAttribute("cy"); })()`, i)), &want[0], &want[1])
		require.NoError(t, err)
		const apart = 0.05 // mm of a map on which 1 m is about 0.13 mm
		assert.InDeltaSlice(t, want[:], got[:], apart, "stop %s", s.Name)
		assert.Equal(t, 1.0, b.Evaluate(`document.querySelectorAll(".here").length`))
	}
	b.Picture("here.png")
	b.Stand(-90, 40, 6)
	said, marked := ask(b)
	assert.Equal(t, "You are not on this map.", said)
	assert.Empty(t, marked, "a mark of before")
	b.AssertQuiet("file://" + path)
}

func TestBrowserSaysWhyNobodyIsMarked(t *testing.T) {
	b := testkit.StartBrowser(t)
	path := saved(t, "week2")
	open(b, path, 1280, 900)
	b.LetLocate("granted")
	s := demo(t, "week2").Fields[0].Stops[0]
	b.Stand(s.Longitude, s.Latitude, 6)
	_, marked := ask(b)
	assert.NotEmpty(t, marked)

	b.NoFix() // no fix to be had
	said, marked := ask(b)
	assert.Contains(t, said, "does not find where it is")
	assert.Empty(t, marked, "a mark of before")

	b.LetLocate("denied")
	said, marked = ask(b)
	assert.Contains(t, said, "refused")
	assert.Empty(t, marked)
	b.AssertQuiet("file://" + path)
}
