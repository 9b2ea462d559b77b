package web_test

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The drill: as many insects are drawn as it then tells, what was guessed and counted is
// kept, and goes on after a crash with another leaf.
func TestTrainTheEye(t *testing.T) {
	p := newPhone(t)
	var told []string
	for leaf := range 2 {
		p.tap("#eye")
		p.shows("eye")
		p.write("eye-name", "scout A")
		p.tap("#eye-start")
		p.Await(`document.getElementById("eye-guess") !== null`)
		p.write("eye-guess", "40")
		p.tap("#eye-count")
		drawn := p.Evaluate(`document.querySelectorAll(".insect").length`).(float64)
		p.tap(add(25))
		p.tap(add(5))
		if leaf == 0 {
			p.screen("eye")
		}
		p.tap("#eye-truth")
		p.Await(`document.getElementById("eye-next") !== null`)
		told = append(told, fmt.Sprintf("There are %v. You guessed 40 and counted 30.", drawn))
		assert.Equal(t, told[leaf], p.status("eye-said"))
		p.again()
	}
	assert.NotEqual(t, told[0], told[1])
	text := p.Text(`Promise.all(["./store.js", "./log.js", "./drill.js"].map(m => import(m))).then(async ([s, l, d]) => d.pairsTable(l.stateOf(await (await s.openStore()).all()).pairs))`)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []string{"scout A", "30"}, rows[1][:2])
	got := p.value("drill.js", `m.outOfHundred([{ estimated: 50, counted: 100 }, { estimated: 200, counted: 100 }, { estimated: 0, counted: 9 }], "estimated")`)
	assert.Equal(t, 100.0, got, "half and twice are even")
}
