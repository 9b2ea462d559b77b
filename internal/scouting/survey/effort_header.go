//go:build !small

package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// thingNames are names, as [bareName] has them, of things of which a header may say how many
// were looked at, leaves and plants apart. Those that the languages lack are common practice,
// no source.
var thingNames = sync.OnceValue(func() map[string]string {
	names := map[string]string{"stalks": "stem", "espigas": "ear", "redazos": "sweep", "golpesred": "sweep", "m2": "square metre", "sqm": "square metre", "squaremeters": "square metre"}
	for _, thing := range [...]string{"stem", "tiller", "head", "ear", "sweep", "square metre", "trap"} {
		for _, name := range namesOf(thing) {
			names[name] = thing
		}
	}
	return names
})

// namesOf are the plurals of a thing.
func namesOf(thing string) (names []string) {
	for _, l := range vocabulary.Languages() {
		names = append(names, bareName(l.Things(2, thing)))
	}
	return names
}

// lookedAt is the thing of which a header says how many were looked at, and nothing else:
// leaf for "No. of leaves", sweep for "sweeps made"; "" for none. wanted is known besides
// those that are always.
func lookedAt(header, wanted string) string {
	name := bareName(header)
	if name == "" {
		return ""
	}
	for _, name := range [...]string{name, withoutNumber(name)} {
		if thing := thingNames()[name]; thing != "" {
			return thing
		}
		if wanted != "" && slices.Contains(namesOf(wanted), name) {
			return wanted
		}
	}
	switch {
	case tellsHowMany(header, leavesInHeader()):
		return "leaf"
	case plantsLookedAt(header):
		return "plant"
	}
	return ""
}

// bareName is a header without words for how many, in one word.
func bareName(header string) string {
	words := slices.DeleteFunc(headerWords(strings.ReplaceAll(header, "²", "2")), func(w string) bool { return howMany()[w] || w == "made" })
	return strings.Join(words, "")
}

// speaksOfLeaves reports that a header is about leaves, whatever it says of them.
func speaksOfLeaves(header string) bool {
	return speaksOf(header, leavesInHeader()) || slices.ContainsFunc(headerWords(header), func(w string) bool { return w == "leaf" || w == "hoja" })
}

// meanOf reports that a header is that of a mean of a unit: mean_per_plant, per 10 sweeps.
func meanOf(header string, unit vocabulary.Unit) bool {
	words := headerWords(header)
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return averageInHeader()[w] || foundInHeader()[w] || w == "of" })
	return len(rest) < len(words) && unit.Thing != "" && strings.Join(rest, "") == same(unit.String())
}

// A headerReader reads headers for counts of a unit.
type headerReader struct {
	table
	opts   Options
	effort effort
	exact  bool // a column has the very name of one of leaves
}

// plain is what a header says whatever counts are of.
func (r headerReader) plain(header string) (column, bool) {
	c, known := (*meanings())[same(header)]
	if !known && !r.exact && tellsHowMany(header, leavesInHeader()) {
		return colLeaves, true
	}
	return c, known
}

// of is what a header says so many of were looked at: a thing, or with neutral whatever
// counts are of.
func (r headerReader) of(header string) (thing string, neutral bool) {
	switch c, known := r.plain(header); {
	case known && c == colLeaves:
		thing = lookedAt(header, r.effort.unit.Thing)
		return thing, thing == "" || r.bareUnits && header == colLeaves.String()
	case known:
		return "", false
	}
	return lookedAt(header, r.effort.unit.Thing), false
}

// first is the first header that says so many of something were looked at, "" for none.
func (r headerReader) first(is func(thing string, neutral bool) bool) string {
	for _, h := range r.Header {
		if thing, neutral := r.of(h); (thing != "" || neutral) && is(thing, neutral) {
			return h
		}
	}
	return ""
}

// meaningFor reads headers for counts of a unit. Where plants are counted a column of
// plants is how many were looked at, and one of leaves is not. A file that tells how many of
// something else alone does not tell what its counts are of.
func meaningFor(t table, opts Options) (meaning func(header string) (column, bool), e effort, err error) {
	r := headerReader{table: t, opts: opts, exact: slices.ContainsFunc(t.Header, func(h string) bool { c, known := (*meanings())[same(h)]; return known && c == colLeaves })}
	if opts.Unit != "" {
		r.effort.unit = vocabulary.UnitOf(opts.Unit)
	}
	want := r.effort.unit.Thing
	own := r.first(func(thing string, neutral bool) bool { return thing == want && !neutral })
	neutral := r.first(func(_ string, neutral bool) bool { return neutral })
	other := r.first(func(thing string, neutral bool) bool { return thing != want && !neutral })
	leaves := slices.ContainsFunc(t.Header, func(h string) bool { c, known := r.plain(h); return known && (c == colLeaves || c == colEmpty) })
	switch {
	case want == "":
		return r.ofAny(leaves)
	case own != "" && want != "leaf":
		r.effort.of = want
		meaning = r.only(func(thing string, neutral bool) bool { return thing == want && !neutral })
	case leaves && want == "leaf", opts.Parts:
		meaning, r.effort.of = r.plain, r.ofPlain()
	case neutral != "":
		meaning, err = r.only(func(_ string, neutral bool) bool { return neutral }), r.doubtSamples(neutral)
	case other != "" && !r.sorts(other):
		return nil, r.effort, r.refuseOther(other)
	default: // of whatever counts are asked for of
		meaning = r.plain
	}
	if err == nil && want != "leaf" && !opts.Parts && !opts.KeptUnits {
		meaning, err = r.withoutLeaves(meaning)
	}
	return meaning, r.effort, err
}

// ofAny reads headers where it does not matter what counts are of: plants and leaves as they
// are, anything else in place of leaves.
func (r headerReader) ofAny(leaves bool) (func(header string) (column, bool), effort, error) {
	thing := func(thing string, _ bool) bool { return thing != "leaf" }
	h := r.first(thing)
	if of, _ := r.of(h); !leaves && of != "" && of != "plant" {
		r.effort.of = of
		return r.only(func(thing string, _ bool) bool { return thing == of }), r.effort, nil
	}
	r.effort.of = r.ofPlain()
	return r.plain, r.effort, nil
}

// ofPlain is the thing that the column of leaves counts.
func (r headerReader) ofPlain() string {
	for _, h := range r.Header {
		if c, known := r.plain(h); known && c == colLeaves {
			thing, neutral := r.of(h)
			if neutral {
				return ""
			}
			return thing
		}
	}
	return ""
}

// only takes the columns of how many of some things were looked at, and none of others.
func (r headerReader) only(is func(thing string, neutral bool) bool) func(header string) (column, bool) {
	return func(header string) (column, bool) {
		if thing, neutral := r.of(header); thing != "" || neutral {
			return colLeaves, is(thing, neutral)
		}
		return r.plain(header)
	}
}

// withoutLeaves does not take what is of leaves for what is of the unit.
func (r headerReader) withoutLeaves(meaning func(header string) (column, bool)) (func(header string) (column, bool), error) {
	counts := slices.ContainsFunc(r.Header, func(h string) bool { c, known := meaning(h); return known && c == colCount })
	said := slices.ContainsFunc(valuesIn(r.opts.Rename), func(to string) bool { return same(to) == same(colMean.String()) })
	for _, h := range r.Header {
		if c, known := meaning(h); known && c == colMean && !counts && !said && speaksOfLeaves(h) {
			return nil, fmt.Errorf("%s: column %s holds means per leaf, and counts are asked for %s: call it mean if they are %s", r.File, quote(h), r.effort.each(), r.effort.each())
		}
	}
	return func(header string) (column, bool) {
		c, known := meaning(header)
		switch {
		case !known && meanOf(header, r.effort.unit):
			return colMean, true
		case known && (c == colMean && !said || c == colEmpty || c == colInfested) && speaksOfLeaves(header):
			return c, false
		}
		return c, known
	}, nil
}

func valuesIn(m map[string]string) (values []string) {
	for _, v := range m {
		values = append(values, v)
	}
	return values
}

// doubtSamples refuses a column that may count sweeps or samples of ten, where both could be
// meant: nobody makes one sweep where ten are asked for.
func (r headerReader) doubtSamples(header string) error {
	if r.effort.unit.Size == 1 || r.opts.KeptUnits || r.allOnes(header) {
		return nil
	}
	u := r.effort.unit
	return fmt.Errorf("%s: column %s may count %s or samples of %s: call it %s, and write %d for each sample (--map %q if it does so)",
		r.File, quote(header), vocabulary.English.Things(2, u.Thing), u, u.Column(), u.Size, strings.TrimSpace(header)+"="+u.Column())
}

// sorts reports whether a column of how many of something else may stand: of counts that are
// kept and were read so, where rows name what they are of and are one of it each, and where it
// is beside the matter.
func (r headerReader) sorts(other string) bool {
	named := func(c column) bool {
		at := slices.IndexFunc(r.Header, func(h string) bool { is, known := r.plain(h); return known && is == c })
		return at >= 0 && !slices.ContainsFunc(r.Rows, func(row row) bool { return at >= len(row.Cells) || strings.TrimSpace(row.Cells[at]) == "" })
	}
	thing, _ := r.of(other)
	switch {
	case r.effort.unit.Thing == "leaf":
		return thing != "plant" && (r.opts.KeptUnits || named(colLeaf) || named(colPlant))
	case thing != "leaf":
		return r.opts.KeptUnits || named(colPlant)
	}
	return r.opts.KeptUnits || named(colPlant) && r.allOnes(other)
}

// allOnes reports that a column has 1 in each row that fills it.
func (r headerReader) allOnes(header string) bool {
	at := slices.Index(r.Header, header)
	return !slices.ContainsFunc(r.Rows, func(row row) bool {
		return at < len(row.Cells) && strings.TrimSpace(row.Cells[at]) != "" && strings.TrimSpace(row.Cells[at]) != "1"
	})
}

// refuseOther says that a table tells how many of something else were looked at.
func (r headerReader) refuseOther(header string) error {
	thing, _ := r.of(header)
	many, u := vocabulary.English.Things(2, thing), r.effort.unit
	says := fmt.Sprintf("%s: column %s says how many %s were looked at", r.File, quote(header), many)
	if r.spoken != "" && !slices.Contains(r.written(), header) {
		says = fmt.Sprintf("%s: the words of %s say how many %s were looked at", r.File, quote(r.spoken), many)
	}
	if u.Thing == "leaf" {
		return &OtherUnit{fmt.Sprintf("%s, and counts are asked for per leaf: give --unit %s, or a column of leaves (--map %s=leaves if it means leaves)", says, cmp.Or(unitFlag(thing), thing), shorten(header))}
	}
	return &OtherUnit{fmt.Sprintf("%s, and counts are asked for %s: write how many %s in a column %s (--map %q if that is what it tells)",
		says, r.effort.each(), vocabulary.English.Things(2, u.Thing), u.Column(), strings.TrimSpace(header)+"="+u.Column())}
}

// unitFlag is a thing of several words as it is typed behind a flag; "" of others.
func unitFlag(thing string) string {
	if strings.Contains(thing, " ") {
		return fmt.Sprintf("%q", thing)
	}
	return ""
}
