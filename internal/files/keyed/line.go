//go:build !small

package keyed

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

var (
	commaNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`([\w-]+)\s*=\s*([-+]?\d+),(\d+)\b`) })
	inQuotes    = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`["']\s*([-+]?\d+(?:[.,]\d+)?)\s*["']`) })
	nameValue   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)\s*([=:]?)\s*(.*?)\s*$`) })
	bareWord    = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[^"'\[{#\s][^"'\[\]{}#]*$`) })
)

// lineOf is a line of a text, counted from 1.
func lineOf(text []byte, line int) string {
	lines := bytes.Split(text, []byte("\n"))
	if line < 1 || line > len(lines) {
		return ""
	}
	return strings.TrimSuffix(string(lines[line-1]), "\r")
}

// decimalComma finds a number with a decimal comma about a column of a line, by its name,
// and how to write it; "" for none.
func decimalComma(line string, column int) (name, right string) {
	for _, m := range commaNumber().FindAllStringSubmatchIndex(line, -1) {
		if column-1 >= m[4] && column-1 <= m[1]+2 {
			return line[m[2]:m[3]], line[m[4]:m[5]] + "." + line[m[6]:m[7]]
		}
	}
	return "", ""
}

// quotedNumber says how to write a number that stands in quotes where one is wanted.
func quotedNumber(line, kind string) string {
	m := inQuotes().FindStringSubmatch(line)
	if m == nil || !strings.HasSuffix(kind, "number") {
		return ""
	}
	right := strings.ReplaceAll(m[1], ",", ".")
	if strings.HasPrefix(kind, "a whole") && strings.Contains(right, ".") {
		return ""
	}
	return fmt.Sprintf(": write %s, without quotes", right)
}

// broken says what is wrong with a line that is no name and value, "" where that cannot be
// told. The name of such a line stands in no table that is known, so that a name of the
// outermost is looked for first, then any.
func (f File) broken(line string, e *toml.DecodeError, to any) string {
	m := nameValue().FindStringSubmatch(line)
	if m == nil || strings.Contains(bare(e), "float") {
		return ""
	}
	name, sign, value := m[1], m[2], m[3]
	kind := f.anywhere(to, name)
	switch {
	case strings.HasPrefix(strings.TrimSpace(value), "#"):
		value = ""
		fallthrough
	case sign == "=" && value == "":
		if kind == "" {
			return ""
		}
		return fmt.Sprintf("%s: the value is missing: want %s", name, kind)
	case sign == "=" && strings.Trim(value, curly) != value:
		value = strings.Trim(value, curly)
		if strings.HasSuffix(kind, "number") {
			return fmt.Sprintf("%s: want %s: write %s, without quotes", name, kind, value)
		}
		return fmt.Sprintf("%s: write straight quotes: %s = %q", name, name, value)
	case sign == ":" || sign == "" && value != "" && kind != "":
		return fmt.Sprintf("%s: want an equals sign between name and value: %s = %s", name, name, value)
	case sign == "=" && kind != "" && bareWord().MatchString(value) && !strings.Contains(bare(e), "already"):
		if strings.HasSuffix(kind, "in quotes") && !strings.HasPrefix(kind, "a list") {
			return fmt.Sprintf("%s: want %s: %s = %q", name, kind, name, value)
		}
		return fmt.Sprintf("%s: want %s", name, kind)
	}
	return ""
}
