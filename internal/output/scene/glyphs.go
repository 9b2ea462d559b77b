package scene

import (
	"fmt"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

var printed struct {
	read  sync.Once
	fonts []*opentype.Font
}

// fontsOfPrint are those of PDF and PNG. They come with the program, and are linked only
// where something is drawn; where they cannot be read no letter counts as there.
func fontsOfPrint() []*opentype.Font {
	printed.read.Do(func() {
		var fonts []*opentype.Font
		for _, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
			f, err := opentype.Parse(ttf)
			if err != nil {
				return
			}
			fonts = append(fonts, f)
		}
		printed.fonts = fonts
	})
	return printed.fonts
}

// hasGlyph tells whether the fonts of PDF and PNG have a letter.
func hasGlyph(r rune) bool {
	fonts := fontsOfPrint()
	for _, f := range fonts {
		if i, err := f.GlyphIndex(nil, r); err != nil || i == 0 {
			return false
		}
	}
	return len(fonts) > 0
}

// LettersLacking says why a field's name does not stand as it is written.
const LettersLacking = "letters of the field's name that this font lacks stand as their Unicode numbers, U+…"

// Printable is a text as the fonts of PDF and PNG can show it: letters that they lack
// stand as their code points, U+6771, words of their own. All tells whether none
// was lacking. White space of all kinds becomes a space.
func Printable(text string) (shown string, all bool) {
	var b strings.Builder
	all = true
	escaped := false // the last letter was
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			b.WriteByte(' ')
			escaped = false
		case !unicode.IsControl(r) && hasGlyph(r):
			if escaped {
				b.WriteByte(' ')
			}
			b.WriteRune(r)
			escaped = false
		default:
			if s := b.String(); s != "" && !strings.HasSuffix(s, " ") {
				b.WriteByte(' ')
			}
			fmt.Fprintf(&b, "U+%04X", r)
			escaped, all = true, false
		}
	}
	return b.String(), all
}
