package engine_test

import (
	"archive/zip"
	"bytes"
	"image/png"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// drawnMorning is a file of the second week of the demo that was asked for to be looked at.
func drawnMorning(t *testing.T, asked, name string, units figures.Units) []byte {
	t.Helper()
	q := morning(t, "week2")
	q.Settings.Units, q.Settings.Write = units, []string{asked}
	made, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	return content(t, made.Files, name)
}

// The map of a field shows areas in the units that were asked for, and no others.
func TestPicturesHaveTheUnitsAskedFor(t *testing.T) {
	for units, want := range map[figures.Units][2]bool{figures.Metric: {true, false}, figures.US: {false, true}, figures.Both: {true, true}} {
		picture := string(drawnMorning(t, "map.svg", "map-Pivot.svg", units))
		told := [2]bool{regexp.MustCompile(`\d ha\b`).MatchString(picture), regexp.MustCompile(`\d ac\b`).MatchString(picture)}
		assert.Equal(t, want, told, "hectares and acres, asked for %q", units)
	}
}

// The colours of the surface on a globe have their legend.
func TestTheSurfaceHasItsLegend(t *testing.T) {
	text := drawnMorning(t, "surface.kmz", "surface.kmz", figures.Both)
	archive, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	require.NoError(t, err)
	legend, err := archive.Open("files/legend.png")
	require.NoError(t, err)
	picture, err := png.Decode(legend)
	require.NoError(t, err)
	assert.Greater(t, picture.Bounds().Dx(), 100)
}
