package roster

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// likeLevel is how the header of a level begins, misspelt or with a unit behind it.
var likeLevel = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(treat|teat|trat|thresh|tresh|watch|wach|spray_?(at|level))`)
})

// An UnknownColumn is one that looks like a level and is not known as one: left out, its
// field would be judged by the level of all others.
type UnknownColumn struct{ File, Column string }

func (e UnknownColumn) Error() string {
	return fmt.Sprintf("%s: column %q is not known", e.File, e.Column)
}

// known are the columns by their own names.
func known() (names []string) {
	for _, synonyms := range columns {
		names = append(names, synonyms[0])
	}
	return names
}

// meant asks for the name that was typed nearly so; "" where none was.
func meant(typed string, among []string) string {
	if near := survey.Meant(typed, among); near != "" {
		return fmt.Sprintf(" (did you mean %q?)", near)
	}
	return ""
}

// unused says which columns are not read; at are those that are.
func (l *List) unused(cells survey.Cells, at []int) error {
	var names []string
	for i, h := range cells.Header {
		if slices.Contains(at, i) || strings.TrimSpace(h) == "" {
			continue
		}
		if likeLevel().MatchString(strings.ReplaceAll(strings.ToLower(strings.TrimSpace(h)), " ", "_")) {
			return UnknownColumn{l.File, h}
		}
		names = append(names, h+meant(h, known()))
	}
	if len(names) > 0 && !cells.Features {
		l.Notes = append(slices.Clip(l.Notes), fmt.Sprintf("%s: columns not used: %s", l.File, survey.Listed(names)))
	}
	return nil
}
