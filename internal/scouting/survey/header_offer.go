//go:build !small

package survey

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
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
	if l.uncounted() {
		if hint := leavesApart(t); hint != "" {
			return hint + l.placesHint(missing)
		}
	}
	if slices.Contains(missing, colLatitude) {
		if hint := t.pairHint(spare); hint != "" {
			return hint
		}
	}
	var flags []string
	leaves := ""
	if !l.leavesKnown() {
		named, alike := l.maybeLeaves(t, spare)
		if leaves = first(named, alike); leavesIn(leaves) > 1 { // counts of so many
			leaves = ""
		}
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
		} else if n := leavesIn(free); n > 1 && means == colCount && !t.has(colLeaves.String()) {
			example += fmt.Sprintf(", and add a column leaves with %d in each row", n)
		}
		return fmt.Sprintf("; say which column is which with --map, such as %s; positions are in decimal degrees%s", example, l.placesHint(missing))
	}
	return "; name the columns so, or say which is which with --map; positions are in decimal degrees" + l.placesHint(missing)
}

// placesHint tells of places from elsewhere where a table of stops has no column for any.
func (l *layout) placesHint(missing []column) string {
	if l.at[colStop] < 0 || !slices.Contains(missing, colLatitude) || !slices.Contains(missing, colLongitude) {
		return ""
	}
	return "; or give --places FILE, a table or a receiver's file with the place of each stop"
}

// checkRenamed refuses a table whose counts are of several leaves, as the header said that was
// renamed, where no column tells how many.
func (l *layout) checkRenamed(t table, opts Options) error {
	for _, from := range slices.Sorted(maps.Keys(opts.Rename)) {
		if n := leavesIn(from); n > 1 && opts.Rename[from] == colCount.String() && l.at[colLeaf] < 0 && !l.leavesKnown() && t.has(colCount.String()) && !t.has(from) {
			return fmt.Errorf("%s: column %s has counts of %d leaves, and no column tells so: add a column leaves with %d in each row", t.File, quote(from), n, n)
		}
	}
	return nil
}

// leavesIn is how many leaves a header says that counts are of, as "Aphids on 10 lvs" does; 0
// where it does not.
func leavesIn(header string) (n int) {
	words := headerWords(header)
	for i, w := range words[min(1, len(words)):] {
		if v, err := strconv.Atoi(words[i]); err == nil && leavesInHeader()[w] {
			n = v
		}
	}
	return n
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
