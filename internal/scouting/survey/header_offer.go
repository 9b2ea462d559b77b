//go:build !small

package survey

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// howToName says how the columns of a header get the names that are understood: flags
// to copy for what its words say, or an example with one of them.
func (l *layout) howToName(t table, missing []column, spare []int, opts Options) string {
	for _, from := range slices.Sorted(maps.Keys(opts.Rename)) {
		to := opts.Rename[from]
		if _, known := (*meanings())[same(from)]; known && t.has(to) && !t.has(from) {
			return fmt.Sprintf("; --map %q is the wrong way round: write --map %q", from+"="+to, to+"="+from)
		}
	}
	if t.Delimited && len(t.Header) == 1 {
		return "; that is one column: part columns by commas, semicolons or tabs, and take quotes off that hold whole rows"
	}
	if seemsRow(t.Header) {
		return "; the first line must name the columns"
	}
	var flags []string
	leaves := ""
	if !l.leavesKnown() {
		named, alike := l.maybeLeaves(t, spare)
		leaves = first(named, alike)
	}
	free, means := "", column(0)
	if len(missing) > 0 {
		means = missing[len(missing)-1]
	}
	for _, h := range t.Header {
		h = strings.TrimSpace(h)
		c, known := (*foreignWords())[same(h)]
		if known && (slices.Contains(missing, c) || c == colLeaves || c == colDate || c == colTime) {
			flags = append(flags, fmt.Sprintf("--map %q", h+"="+c.String()))
		}
		if _, known := (*meanings())[same(h)]; known || h == leaves || free != "" || tellsHowMany(h, leavesInHeader()) {
			continue
		}
		if as, may := mayMean(h, means); may {
			free, means = h, as
		}
	}
	switch {
	case len(flags) > 0:
		return "; give " + strings.Join(flags, " ") + "; positions are in decimal degrees"
	case free != "" && len(missing) > 0:
		example := fmt.Sprintf("--map %q", free+"="+means.String())
		if leaves != "" { // without it each row would count as one leaf
			example += fmt.Sprintf(" --map %q", leaves+"=leaves")
		}
		return fmt.Sprintf("; say which column is which with --map, such as %s; positions are in decimal degrees", example)
	}
	return "; name the columns so, or say which is which with --map; positions are in decimal degrees"
}

// Words of headers for what was found, and for an average of it. Common practice, no source.
var (
	foundInHeader   = wordSet("count counts counted total totals sum number found seen aphid aphids bug bugs insect insects pest pests")
	averageInHeader = wordSet("avg average mean per")
)

// mayMean reports whether a header may be that of a missing column, and of which: who follows
// an offer should not take the leaf's number, or how far a phone is off, for a count, nor an
// average for all that was found.
func mayMean(header string, missing column) (c column, may bool) {
	words := headerWords(header)
	is := func(set func() map[string]bool) bool {
		return slices.ContainsFunc(words, func(w string) bool { return set()[w] })
	}
	switch {
	case missing != colCount:
		return missing, true
	case is(averageInHeader), strings.Contains(header, "/"):
		return colMean, is(foundInHeader)
	}
	return colCount, is(foundInHeader)
}
