// Package visible makes the invisible orders of a text visible. Names from files may hold
// escape sequences, or signs that turn the direction of letters, and a screen or a page
// that obeys them shows what is not there.
package visible

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// A Writer writes text to a terminal or a page with its invisible orders as \u001b and the
// like, which is also how JSON writes them. Bytes that are no UTF-8 come out as U+FFFD.
type Writer struct {
	To   io.Writer
	part []byte // the beginning of a letter whose rest is to come
}

// Seen reports whether a text holds nothing that a [Writer] would write otherwise.
func Seen(text string) bool {
	return utf8.ValidString(text) && !strings.ContainsFunc(text, func(r rune) bool { return commands(r) || hides(r) })
}

// Write writes text; a letter that its end cuts waits for its rest.
func (v *Writer) Write(text []byte) (int, error) {
	all := append(v.part, text...)
	out := make([]byte, 0, len(all))
	v.part = nil
	for len(all) > 0 {
		if !utf8.FullRune(all) {
			v.part = append([]byte(nil), all...)
			break
		}
		r, size := utf8.DecodeRune(all)
		if commands(r) || hides(r) {
			for _, unit := range utf16.Encode([]rune{r}) {
				out = fmt.Appendf(out, `\u%04x`, unit)
			}
		} else {
			out = utf8.AppendRune(out, r)
		}
		all = all[size:]
	}
	if _, err := v.To.Write(out); err != nil {
		return 0, err
	}
	return len(text), nil
}

// joiner and nonJoiner are signs of format that scripts need: without them, words of
// Persian or of Indian scripts are written wrongly.
const (
	nonJoiner = '\u200c'
	joiner    = '\u200d'
)

// hides reports signs that take no room, or stand as a blank, though they are letters or
// signs of format: two names that look alike may differ by them. Unicode lists them as
// Cf and as Default_Ignorable_Code_Point. Selectors of a variant stay, as they change
// the look of the sign before, and so do the signs of Cf that are seen, before numbers.
func hides(r rune) bool {
	switch r {
	case joiner, nonJoiner:
		return false
	case '\u034f', '\u115f', '\u1160', '\u17b4', '\u17b5', '\u180e', '\u3164', '\uffa0':
		return true
	}
	return unicode.Is(unicode.Cf, r) && !unicode.Is(unicode.Prepended_Concatenation_Mark, r) || r >= 0xe0000 && r <= 0xe007f
}

// commands reports signs that steer a terminal and show nothing: control characters
// but the ends of lines and tabs, and the marks and overrides of direction.
func commands(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029'
}
