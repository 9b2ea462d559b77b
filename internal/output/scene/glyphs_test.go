package scene_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"Pivot, 50 ha – √ ł é": "", "": "", "東の畑": "U+6771 U+306E U+7551", "West 東West": "West U+6771 West", "a\tb\n": "a b ", "\x00": "U+0000",
	} {
		shown, all := scene.Printable(text)
		if want == "" {
			want = text
		}
		assert.Equal(t, want, shown)
		assert.Equal(t, !strings.Contains(want, "U+"), all, "%q", text)
	}
}

// A field's name stands whole on its map, in letters that the reader has.
func TestMapsNameTheirFields(t *testing.T) {
	for name, printed := range map[string]string{strings.Repeat("x", 75): strings.Repeat("x", 75), "東の畑 West": "U+6771U+306EU+7551West"} {
		subject := demo(t, "week2", assess.Settings{})[0]
		field := *subject.Field
		field.Name = name
		subject.Field = &field
		for viewer, want := range map[bool]string{false: printed, true: strings.ReplaceAll(name, " ", "")} {
			drawn, err := scene.Sheet{Paper: scene.A4(), Viewer: viewer}.Of(subject)
			require.NoError(t, err)
			var all string
			for _, layer := range drawn.Layers {
				for _, item := range layer.Items {
					if text, ok := item.(scene.Text); ok {
						all += strings.ReplaceAll(text.Text, " ", "")
					}
				}
			}
			assert.Contains(t, all, want)
			assert.Equal(t, !viewer && strings.Contains(want, "U+"), strings.Contains(all, strings.ReplaceAll(scene.LettersLacking, " ", "")))
			var b bytes.Buffer
			require.NoError(t, scene.WritePDF(&b, []scene.Scene{drawn}))
		}
	}
}

// Nothing is lost between lines, and none is wider than it may be unless a single
// letter is.
func TestWrapKeepsEveryLetter(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("ab東 \t😀"))).Draw(t, "text")
		most := rapid.IntRange(0, 9).Draw(t, "most")
		lines := scene.Wrap(text, func(line string) bool { return utf8.RuneCountInString(line) <= most })
		assert.Equal(t, strings.Join(strings.Fields(text), ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
		for _, line := range lines {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), max(1, most))
			assert.NotEmpty(t, line)
		}
	})
}
