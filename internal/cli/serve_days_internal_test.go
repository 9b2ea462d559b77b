//go:build !js

package cli

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openDays are the second week in two files, with its day as 07/08/2026. Invented.
func openDays(t *testing.T) {
	t.Helper()
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(text), "2026-07-15", "07/08/2026")), "\n")
	require.Contains(t, lines[1], "07/08/2026")
	for name, rows := range map[string][]string{"morning.csv": lines[1:20], "noon.csv": lines[20:]} {
		require.NoError(t, os.WriteFile(name, []byte(lines[0]+"\n"+strings.Join(rows, "\n")+"\n"), 0o600))
	}
}

// A day that can be read both ways is asked for once, with both days written out. The
// answer goes for all files, and the command shown says the same.
func TestTheLaptopAsksForADayOnce(t *testing.T) {
	inDemo(t)
	openDays(t)
	p := newLaptop(t, "", 1366)
	p.drop("morning.csv", "field.geojson", "noon.csv")
	p.Await(`document.querySelectorAll("#which-day").length === 1 && document.getElementById("needs").textContent === "Say first which day it was."`)
	assert.Equal(t, "Which day is 07/08/2026 in morning.csv?", p.Text(`document.querySelector("#which-day legend").textContent`))
	assert.Equal(t, "Friday 7 August 2026, Wednesday 8 July 2026", p.Text(`[...document.querySelectorAll("#which-day label")].map(l => l.textContent).join(", ")`))
	assert.Equal(t, "0", p.Text(`document.querySelectorAll("#which-day :checked").length`), "nothing is presumed")
	assert.Equal(t, "true", p.Text(`document.getElementById("go-answer").offsetParent === null`), "no answer before the day is told")
	p.looks("which-day")

	// Who goes to the answer all the same is told what is lacking, and led there.
	p.pressed("#step-answer")
	assert.Equal(t, "No answer yet. Say first which day it was.", p.Text(`document.getElementById("lacking").textContent`))
	p.looks("which-day-answer")
	p.pressed("#give-lacking")
	assert.Equal(t, "day-first", p.Text(`document.activeElement.id`))
	p.Await(`document.getElementById("needs").textContent === "Say first which day it was."`)
	p.Key("Space")
	p.Await(`document.querySelector("#command pre").textContent.includes("--date-order day-first") && document.getElementById("needs").textContent === ""`)
	assert.Equal(t, "day-first", p.Text(`document.activeElement.id`), "who works by keyboard stays where they are")
	p.Await(`!document.getElementById("rows").textContent.includes("so are all like it")`) // nor is the day in doubt
	p.pressed("#go-answer")
	p.Await(`document.querySelector("#map svg") !== null`)
	assert.Contains(t, p.Text(`document.getElementById("day").textContent`), "August 2026")
	command := p.Text(`document.querySelector("#command pre").textContent`)
	assert.Contains(t, command, "--date-order day-first")
	runsLine(t, command)
	reply, _ := answered(t, "map", `{"date-order":"day-first"}`, brought(t, "boundary:field.geojson", "counts:morning.csv", "counts:noon.csv")...)
	assertSame(t, "out", reply)

	// It can be answered otherwise on the answer too.
	p.TabTo("#day-first")
	p.Key("ArrowDown")
	p.Await(`document.getElementById("day").textContent.includes("July 2026") && document.querySelector("#command pre").textContent.includes("--date-order month-first")`)
	p.quiet()
}

// Who looks at the answer before the rows were read is asked there.
func TestTheAnswerAsksForADay(t *testing.T) {
	inDemo(t)
	openDays(t)
	_, facts := answered(t, "map", `{}`, brought(t, "boundary:field.geojson", "counts:morning.csv", "counts:noon.csv")...)
	open := facts["open_days"].([]any)
	require.Len(t, open, 2, "one of each file")
	assert.Equal(t, map[string]any{"day-first": "2026-08-07", "month-first": "2026-07-08"}, open[0].(map[string]any)["days"])
	_, facts = answered(t, "map", `{}`, brought(t, "boundary:field.geojson", "counts:week2.csv")...)
	assert.Empty(t, facts["open_days"])
}
