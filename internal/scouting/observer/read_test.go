package observer_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/observer"
)

func TestReadPairs(t *testing.T) {
	text := "\ufeffObserver;Guess;Counted;notes\nA;10;12;x\n;10;12;\nB; 0 ;3\nB;;3\nB;5;many\nB;5;-1\nB;\"5;1\n"
	pairs, problems, err := observer.ReadPairs("pairs.csv", strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, []observer.Pair{{"A", 10, 12}, {"B", 0, 3}}, pairs)
	var lines []string
	for _, p := range problems {
		lines = append(lines, p.String())
	}
	require.Len(t, lines, 5)
	assert.Equal(t, "pairs.csv:3: column observer is blank; write who estimated", lines[0])
	assert.Contains(t, lines[1], "pairs.csv:5: column estimated is blank; a blank is not a zero")
	assert.Contains(t, lines[2], `"many" is no number`)
	assert.Contains(t, lines[3], "want 0 or more")
	assert.Contains(t, lines[4], "pairs.csv:8")

	pairs, _, err = observer.ReadPairs("pairs.csv", strings.NewReader("estimated,counted\n1,2\n"))
	require.NoError(t, err)
	assert.Equal(t, []observer.Pair{{"", 1, 2}}, pairs)
	for _, bad := range []string{"", "a,b\n1,2\n", "estimated,counted\n", "estimated,counted\nx,1\n"} {
		_, _, err := observer.ReadPairs("pairs.csv", strings.NewReader(bad))
		assert.ErrorContains(t, err, "pairs.csv", bad)
	}
}

func FuzzReadPairs(f *testing.F) {
	f.Add("observer,estimated,counted\nA,1,2\n")
	f.Add("estimated;counted\n\"1;2\n;;\n")
	f.Fuzz(func(t *testing.T, text string) {
		pairs, _, err := observer.ReadPairs("f.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		for _, p := range pairs {
			assert.NoError(t, p.Validate())
		}
		observer.Calibrate(pairs)
	})
}

func TestFileIsReadBack(t *testing.T) {
	calibrations := observer.Calibrate(append(simulated(rand.New(rand.NewPCG(3, 3)), 20, 1, 0.7), observer.Pair{"B", 1, 1}))
	file := observer.FileOf(calibrations)
	var b bytes.Buffer
	require.NoError(t, file.Write(&b))
	text := b.String()
	got, err := observer.ReadFile("o.json", &b)
	require.NoError(t, err)
	assert.Equal(t, file, got)
	assert.NotNil(t, got.Find(" a "))
	assert.Nil(t, got.Find("b"), "too few pairs")
	assert.Nil(t, got.Find("nobody"))
	for name, bad := range map[string]string{
		"nothing":      "",
		"other format": `{"format":"x"}`,
		"twice":        `{"format":"geocoris observers 1","observers":[{"observer":"A"},{"observer":"a"}]}`,
		"empty fit":    `{"format":"geocoris observers 1","observers":[{"observer":"A","fit":{}}]}`,
		"steep":        strings.Replace(text, `"slope": `, `"slope": 1e9, "was": `, 1),
	} {
		_, err := observer.ReadFile("o.json", strings.NewReader(bad))
		assert.ErrorContains(t, err, "o.json", name)
	}
}

func FuzzReadFile(f *testing.F) {
	f.Add(`{"format":"geocoris observers 1","observers":[{"observer":"A","fit":{"n":10,"slope":1,"squares_x":1,"smearing":1}}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		file, err := observer.ReadFile("f.json", strings.NewReader(text))
		if err == nil {
			if fit := file.Find("A"); fit != nil {
				assert.Greater(t, fit.Slope, 0.0)
			}
		}
	})
}
