package season

import (
	"slices"
	"strings"
)

// Authors writes the names of those who brought a visit in one way: parted by semicolons,
// each once, in the order of their bytes. So the names of two are those of both, whoever
// comes first.
func Authors(texts ...string) string {
	var names []string
	for _, text := range texts {
		for name := range strings.SplitSeq(text, ";") {
			if name = strings.Join(strings.Fields(name), " "); name != "" {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), "; ")
}
