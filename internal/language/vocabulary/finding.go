//go:build !small

package vocabulary

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// Finding is what the language has for a finding that is put together already: a text, or a
// form that was filled in, or several of them joined by semicolons. What it lacks stays
// English.
func (l Language) Finding(english string) string {
	if l != Spanish {
		return english
	}
	if own, ok := wholeFinding(english); ok {
		return own
	}
	parts := strings.Split(english, "; ")
	for i, part := range parts {
		if own, ok := wholeFinding(part); ok {
			parts[i] = own
		}
	}
	return strings.Join(parts, "; ")
}

func wholeFinding(english string) (own string, ok bool) {
	if own, ok = spanishRows()[english]; ok {
		return own, true
	}
	for _, f := range filledForms() {
		if m := f.english.FindStringSubmatch(english); m != nil {
			args := make([]any, len(m)-1)
			for i, text := range m[1:] {
				args[i] = text
			}
			return fmt.Sprintf(f.spanish, args...), true
		}
	}
	return english, false
}

// A filledForm finds the form that a text was made of, and has it in Spanish with its verbs
// for texts.
type filledForm struct {
	english *regexp.Regexp
	spanish string
}

var aVerb = regexp.MustCompile(`%(\[\d+\])?[-+# 0]*\d*(?:\.\d+)?[a-zA-Z]`)

// filledForms are those with verbs, the longest first, as it says most.
var filledForms = sync.OnceValue(func() (all []filledForm) {
	rows := spanishRows()
	for _, english := range slices.SortedFunc(maps.Keys(rows), func(a, b string) int { return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a, b)) }) {
		if !aVerb.MatchString(english) {
			continue
		}
		pattern := regexp.QuoteMeta(aVerb.ReplaceAllString(strings.ReplaceAll(english, "%%", "\x00"), "\x01"))
		pattern = strings.ReplaceAll(pattern, "\x01", "([^;]+)")
		own := strings.ReplaceAll(aVerb.ReplaceAllString(strings.ReplaceAll(rows[english], "%%", "\x00"), "%${1}s"), "\x00", "%%")
		all = append(all, filledForm{regexp.MustCompile("^" + strings.ReplaceAll(pattern, "\x00", "%") + "$"), own})
	}
	return all
})
