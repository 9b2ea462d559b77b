package cli

import (
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

// mostWalks is how many walks a screen names.
const mostWalks = 3

// walks are the commands that plan the stops which answers ask for, as they are typed.
// They stand on lines of their own and are not wrapped, so that they can be copied.
func (o mapOptions) walks(made *engine.MapOutcome) (lines []report.Line) {
	asked := made.AskedWalks()
	if len(asked) == 0 || o.Field == "" { // of a season, which has no file of its fields
		return nil
	}
	lines = []report.Line{{}, {Text: o.Said().Text("Where to walk more stops:")}}
	folders := made.Folders()
	if len(folders) == 1 {
		folders = nil
	}
	for i, walk := range asked {
		if i == mostWalks {
			lines = append(lines, report.Line{Text: "  " + o.Said().Say("and so for %d more", len(asked)-i)})
			break
		}
		lines = append(lines, report.Line{Text: "  " + o.walkCommand(walk, folders[walk.Field])})
	}
	return lines
}

// walkCommand plans the stops of a walk in a folder with the field's own name for one, ""
// where the map has no other field.
func (o mapOptions) walkCommand(walk engine.AskedWalk, folder string) string {
	words := append([]string{"geocoris", "plan"}, ofFields(o.Field, o.NameProperty, o.Inner)...)
	out := o.Out + "-more"
	if folder != "" {
		out += "-" + folder
	}
	if folder != "" || o.Only != nil { // the boundary holds other fields too
		words = append(words, "--only", walk.Field)
	}
	if walk.Anew {
		words = append(words, "--stops", fmt.Sprint(walk.Stops))
	} else {
		words = append(words, "--after", o.Out, "--add", fmt.Sprint(walk.Stops))
	}
	words = append(words, "--out", out)
	return shellLine(words)
}

// mapping is the command that maps the table once it is filled in. No column of it names the
// rule that it was made for. Further stops are mapped with those before, which only the
// person has.
func (o planOptions) mapping(made *engine.PlanOutcome) []report.Line {
	if o.Rule == "" && o.After != "" {
		return nil
	}
	words := append([]string{"map", filepath.Join(o.Out, "stops.csv")}, ofFields(o.Field, o.NameProperty, o.Inner)...)
	if o.Only != "" {
		words = append(words, "--only", o.Only)
	}
	says := "Once the table is filled in:"
	if o.Rule != "" {
		says = "Once the table is filled in, map it by the same rule:"
		words = append(words, "--rule", o.Rule)
	}
	if o.rules != "" {
		words = append(words, "--rules", o.rules)
	}
	words = append(words, "--out", beside(o.Out, "-map"))
	return commandLine(made.Plan.Said.Text(says), words)
}

// ofFields are the words of a command for a boundary and how its fields are read.
func ofFields(boundary, nameProperty string, inner engine.Inner) []string {
	words := []string{"--field", boundary}
	if nameProperty != "" {
		words = append(words, "--name-property", nameProperty)
	}
	if inner != "" {
		words = append(words, "--inner", string(inner))
	}
	return words
}

// shellLine is a command as a shell takes it. A name that begins with a dash, and is no value
// of the flag before it, would be taken for flags.
func shellLine(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		if len(w) > 1 && w[0] == '-' && w[1] != '-' && (i == 0 || !strings.HasPrefix(words[i-1], "--")) {
			w = "./" + w
		}
		out[i] = typed(w)
	}
	return strings.Join(out, " ")
}

// typed is a word as a shell of this system takes it.
func typed(word string) string {
	if runtime.GOOS == "windows" {
		return typedOnWindows(word)
	}
	switch {
	case strings.ContainsAny(word, "\"$`\\!"):
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	case word == "" || strings.ContainsAny(word, " \t'&|;<>()*?#~[]{}"):
		return `"` + word + `"`
	}
	return word
}

// typedOnWindows is a word as both of its shells take it: single quotes mean nothing to the
// older one, a backslash is no escape but before a double quote, and the newer one parts words
// at commas. Of a word with $ or ` the newer one would make another; names of files and fields
// hardly ever have them.
func typedOnWindows(word string) string {
	if word != "" && !strings.ContainsAny(word, " \t\"'`$&|;,<>()*?#~[]{}!^%@") {
		return word
	}
	word = strings.ReplaceAll(word, `"`, `\"`)
	bare := strings.TrimRight(word, `\`)
	return `"` + word + word[len(bare):] + `"` // those before the closing quote count twice
}
