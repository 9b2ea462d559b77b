//go:build !small

package vocabulary

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
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
	if own, ok := findings().whole(english); ok {
		return own
	}
	parts := strings.Split(english, "; ")
	for i, part := range parts {
		if own, ok := findings().whole(part); ok {
			parts[i] = own
		}
	}
	return strings.Join(parts, "; ")
}

// Note is what the language has for a remark on what was read and done, which may stand
// behind the name of a file or a field. What it lacks stays English.
func (l Language) Note(english string) string {
	if l != Spanish {
		return english
	}
	if own, ok := remarks().whole(english); ok {
		return own
	}
	of, rest, behind := strings.Cut(english, ": ")
	if !behind {
		return english
	}
	if own, ok := remarks().whole(": " + rest); ok {
		return of + own
	}
	said := l.Note(rest)
	if name, field := strings.CutPrefix(of, "field "); field && said != rest {
		of = l.Say("field %s", name)
	}
	return of + ": " + said
}

// A composed has texts and forms by their English, and finds what was made of them.
type composed struct {
	texts map[string]string
	forms []filledForm
}

func (c composed) whole(english string) (own string, ok bool) {
	if own, ok = c.texts[english]; ok {
		return own, true
	}
	for _, f := range c.forms {
		if m := f.english.FindStringSubmatch(english); m != nil {
			args := make([]any, len(m)-1)
			for i, text := range m[1:] {
				args[i] = text
				if own, ok := c.texts[text]; ok {
					args[i] = own
				} else {
					args[i] = countOrColumns(text)
				}
			}
			return fmt.Sprintf(f.spanish, args...), true
		}
	}
	return english, false
}

// countOrColumns is a number of things, such as 4 stops, a line of a file, or columns read as
// others, in Spanish; any other text as it is.
func countOrColumns(text string) string {
	things := [...]string{"stop", "row", "day", "field", "leaf", "plant", "stem", "tiller", "head", "ear", "sweep", "square metre", "trap"}
	number, word, _ := strings.Cut(text, " ")
	if _, err := strconv.Atoi(word); err == nil && number == "line" {
		return "la línea " + word
	}
	if n, err := strconv.Atoi(number); err == nil {
		for _, one := range things {
			if English.Things(n, one) == word {
				return number + " " + Spanish.Things(n, one)
			}
		}
	}
	for _, one := range things {
		if English.Things(2, one) == text {
			return Spanish.Things(2, one)
		}
	}
	return strings.ReplaceAll(text, `" as `, `" como `)
}

// A filledForm finds the form that a text was made of, and has it in Spanish with its verbs
// for texts.
type filledForm struct {
	english *regexp.Regexp
	spanish string
}

var aVerb = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`%(\[\d+\])?[-+# 0]*\d*(?:\.\d+)?[a-zA-Z]`) })

var (
	findings = sync.OnceValue(func() composed { return composed{spanishRows(), filledForms(spanishRows())} })
	remarks  = sync.OnceValue(func() composed { return composed{spanishNotes(), filledForms(spanishNotes())} })
)

// filledForms are those with verbs, the longest first, as it says most.
func filledForms(rows map[string]string) (all []filledForm) {
	for _, english := range slices.SortedFunc(maps.Keys(rows), func(a, b string) int { return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a, b)) }) {
		if !aVerb().MatchString(english) {
			continue
		}
		pattern := regexp.QuoteMeta(aVerb().ReplaceAllString(strings.ReplaceAll(english, "%%", "\x00"), "\x01"))
		pattern = strings.ReplaceAll(pattern, "\x01", "([^;]+)")
		own := strings.ReplaceAll(aVerb().ReplaceAllString(strings.ReplaceAll(rows[english], "%%", "\x00"), "%${1}s"), "\x00", "%%")
		all = append(all, filledForm{regexp.MustCompile("^" + strings.ReplaceAll(pattern, "\x00", "%") + "$"), own})
	}
	return all
}
