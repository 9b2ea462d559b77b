//go:build !js

package cli

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Counts of stops that stand together are not printed over one another, and the highest is
// there; stops apart keep theirs.
func TestTheLaptopsMapOfACrowd(t *testing.T) {
	inDemo(t)
	counts, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	for _, row := range []string{ // round stop 21, some metres off
		"A,-101.59993,35.89695,310,10", "B,-101.59998,35.89701,290,10", "C,-101.60003,35.89696,333,10",
		"D,-101.59995,35.89689,280,10", "E,-101.60001,35.89699,301,10",
	} {
		counts = append(counts, row+",2026-07-15T09:00:00-05:00,scout A,sorghum aphid,4,3.0,\n"...)
	}
	require.NoError(t, os.WriteFile("crowd.csv", counts, 0o600))
	p := newLaptop(t, ".", 1366)
	p.drop("crowd.csv", "field.geojson")
	p.press("#go-answer")
	p.press(`[data-field="Pivot"]`)
	p.Await(`document.querySelectorAll("#map svg circle.spot").length > 40`)
	p.AssertNothingOverlaps("a crowd", 390, 1366)
	p.Picture("crowd.png")
	shown := p.Text(`[...document.querySelectorAll("#map svg.picture text")].map(e => e.textContent).join(" ")`)
	assert.Contains(t, shown, "33.3")
	assert.NotContains(t, shown, "30.1")
	p.quiet()
}
