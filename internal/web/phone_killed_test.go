package web_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The browser is killed at moments of chance while a leaf is counted. What the screen
// showed before is there again, on the same leaf, and nothing that was not tapped.
func TestNothingTappedIsLost(t *testing.T) {
	kills := 3
	if testkit.Strict() {
		kills = 20
	}
	address := served(t)
	profile, chance := testkit.BrowserProfile(t), rand.New(rand.NewPCG(1, 16))
	var shown, tapped int
	for kill := range kills + 1 {
		p := phone{testkit.StartBrowserIn(t, profile), t, address}
		p.open(390, 844)
		if kill == 0 {
			p.keep(begun(t, mean, 12)...)
			p.tap("#planned")
			p.taps(tell(3), `[data-guess="tens"]`)
		}
		p.shows("count")
		require.Equal(t, "Plant 1 of 5, upper leaf", p.leaf(), "kill %d", kill)
		found := p.onLeaf()
		require.GreaterOrEqual(t, found, shown, "kill %d: taps that were shown are gone", kill)
		require.LessOrEqual(t, found, tapped, "kill %d: more than was tapped", kill)
		if kill == kills {
			break
		}
		shown, tapped = found, found
		for range 1 + chance.IntN(12) {
			p.tap(add(1))
			tapped++
			shown = p.onLeaf()
		}
		time.Sleep(time.Duration(chance.IntN(30)) * time.Millisecond)
		p.Kill()
	}
	assert.Positive(t, shown)
}

// onLeaf is how many the screen says are on the leaf.
func (p phone) onLeaf() (n int) {
	p.t.Helper()
	_, err := fmt.Sscan(p.Text(`document.querySelector(".figure").textContent`), &n)
	require.NoError(p.t, err)
	return n
}
