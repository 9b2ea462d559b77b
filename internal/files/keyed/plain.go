//go:build !small

package keyed

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// plainWords are what is wrong by what the reader of TOML says of it, the first that fits.
var plainWords = [...]struct{ says, plain string }{
	{"unterminated", "a quote opens and never closes"},
	{"not terminated", "a quote opens and never closes"},
	{"new lines", "a quote opens and never closes"},
	{"to close", "a square bracket opens and never closes"},
	{"array", "a list opens with [ and does not close, or lacks a comma"},
	{"inline table", "a brace opens and does not close, or lacks a comma"},
	{"escape", `a \ in double quotes stands for something else: put the text in single quotes`},
	{`after \`, `a \ in double quotes stands for something else: put the text in single quotes`},
	{"control characters", "holds a sign that no text has: type the line anew"},
	{"after key", "want an equals sign between name and value, and no blank in the name"},
	{"leading zeroes", "write the number without a 0 in front"},
	{"parse float", "the number is too large"},
	{"too large", "the number is too large"},
	{"expected newline", "want one value on a line, and # before a remark"},
	{"extra characters", "want one value on a line, and # before a remark"},
	{"digit", "want a number, with digits on both sides of its point"},
	{"date", "want a text in quotes"},
	{"time", "want a text in quotes"},
	{"value", "want a number, true or false, or a text in quotes"},
	{"quoted", "want a number, true or false, or a text in quotes"},
	{"keyword", "want a number, true or false, or a text in quotes"},
}

// plain says what the reader of TOML says of a line in plain words; what has none stays.
func plain(said, line string) string {
	line = strings.TrimSpace(line)
	if strings.Contains(said, "start of key") || strings.Contains(said, "expected key") {
		switch {
		case strings.HasPrefix(line, "="):
			return "the name before the equals sign is missing"
		case strings.HasPrefix(line, "//"), strings.HasPrefix(line, ";"):
			return "a remark begins with #"
		}
		return "want a name, an equals sign and a value on each line"
	}
	for _, w := range plainWords {
		if strings.Contains(said, w.says) {
			return w.plain
		}
	}
	return said
}

// curly are quotes that word processors and phones make of straight ones.
const curly = "“”„‘’«»"

// readable is the text without the mark that some editors put in front; an error where it is
// no text in UTF-8.
func (f File) readable() ([]byte, *Error) {
	text := bytes.TrimPrefix(f.Text, []byte("\xEF\xBB\xBF"))
	if utf8.Valid(text) && bytes.IndexByte(text, 0) < 0 {
		return text, nil
	}
	line, column := 1, 1
	for at := 0; at < len(text); {
		r, n := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && n == 1 || r == 0 {
			break
		}
		if at, column = at+n, column+1; r == '\n' {
			line, column = line+1, 1
		}
	}
	return nil, &Error{Text: f.at(line, column, "holds a sign that is not in UTF-8"), Hint: "save the file as text in UTF-8"}
}

// doubled is a name that is there with small letters and with capitals, which the reader of TOML
// takes for one, and the last of them; "" for none. It reads all again where a line has capitals
// before its equals sign, as few do.
func (f File) doubled() string {
	var all map[string]any
	for line := range bytes.Lines(f.Text) {
		name, _, _ := bytes.Cut(line, []byte("="))
		if !bytes.HasPrefix(name, []byte("#")) && !bytes.Equal(name, bytes.ToLower(name)) && toml.Unmarshal(f.Text, &all) == nil {
			return twice(all)
		}
	}
	return ""
}

// twice is the first name that a table has twice but for capitals, "" for none.
func twice(v any) (name string) {
	switch v := v.(type) {
	case map[string]any:
		seen := map[string]bool{}
		for _, key := range slices.Sorted(maps.Keys(v)) {
			if in := twice(v[key]); in != "" {
				return in
			}
			low := strings.ToLower(key)
			if seen[low] {
				return low
			}
			seen[low] = true
		}
	case []any:
		for _, one := range v {
			if in := twice(one); in != "" {
				return in
			}
		}
	}
	return ""
}
