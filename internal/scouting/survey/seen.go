package survey

import (
	"fmt"
	"math"
	"strings"
)

// Seen is what was written down of the plants of a row beside its counts.
type Seen struct {
	Plants    float64 // looked at; NaN where not given
	Over      float64 // of them at or above what AtOrAbove says; NaN where not given
	AtOrAbove string  // a tally, or a sign; "" where the row does not tell
	Honeydew  Sign
	Colonies  Sign
	Predators Sign
	Mummies   Sign
}

// A Sign is a cell as it was entered, and the number that it tells: of plants that show
// the sign, or of what was found; NaN where it tells none.
type Sign struct {
	Text   string
	Number float64
}

// Entered reports whether anything was entered.
func (s Sign) Entered() bool { return s.Text != "" }

// Signs are those that a row may tell, by the names of their columns, in their order.
func (s Seen) Signs() []NamedSign {
	return []NamedSign{
		{colHoneydew.String(), s.Honeydew}, {colColonies.String(), s.Colonies}, {colPredators.String(), s.Predators}, {colMummies.String(), s.Mummies},
	}
}

// SignNames are the names of the columns of signs, in the order of [Seen.Signs].
func SignNames() []string {
	return []string{colHoneydew.String(), colColonies.String(), colPredators.String(), colMummies.String()}
}

// A NamedSign is a sign under the name of its column.
type NamedSign struct {
	Name string
	Sign
}

// uncounted reports that a table has no column of counts.
func (l *layout) uncounted() bool {
	return l.at[colCount] < 0 && l.at[colMean] < 0 && !(l.at[colGroups] >= 0 && l.at[colGroupSize] >= 0)
}

// notCounted reports that the row has no count and needs none.
func (rd *reader) notCounted() bool {
	return rd.uncounted() || rd.lenient && rd.text(colOver) != "" && rd.text(colCount) == "" && rd.text(colMean) == "" && rd.text(colGroups) == ""
}

// tellsPlants reports that a table tells what a share of plants can be worked out from.
func (l *layout) tellsPlants() bool {
	return l.at[colOver] >= 0 || l.at[colInfested] >= 0 || l.at[colHoneydew] >= 0 || l.at[colColonies] >= 0
}

// seen reads the columns of plants and signs; nil where the table has none of them.
func (rd *reader) seen(rec *Record) *Seen {
	some := rd.plants >= 0 || rd.ofPlants
	for _, c := range []column{colOver, colAtOrAbove, colHoneydew, colColonies, colPredators, colMummies} {
		some = some || rd.has(c)
	}
	if !some {
		return nil
	}
	s := &Seen{Plants: rd.plantsOf(rec), AtOrAbove: rd.text(colAtOrAbove)}
	s.Over = rd.over(s.Plants)
	s.Honeydew, s.Colonies = rd.sign(colHoneydew, s.Plants), rd.sign(colColonies, s.Plants)
	s.Predators, s.Mummies = rd.tallied(colPredators), rd.tallied(colMummies)
	if rd.uncounted() && math.IsNaN(s.Over) && math.IsNaN(rec.Infested) && !s.Honeydew.Entered() && !s.Colonies.Entered() && rd.text(colOver) == "" {
		rd.refuse(rd.firstOf(colOver, colInfested, colHoneydew, colColonies), "nothing is entered", "write on how many plants, 0 if there were none")
	}
	return s
}

func (rd *reader) firstOf(all ...column) column {
	for _, c := range all {
		if rd.has(c) {
			return c
		}
	}
	return all[0]
}

// plantsOf is how many plants the row is of: what a column of them says, one where the
// row names its plant, the units where these are no leaves; else NaN.
func (rd *reader) plantsOf(rec *Record) float64 {
	switch {
	case rd.plants >= 0:
		v, err := rd.parseFew(rd.bare(colLeaves, rec.Looked.Plants))
		if err != nil || !(v > 0) || v > mostUnits || v != math.Trunc(v) {
			return math.NaN()
		}
		return v
	case rd.ofPlants && !(rec.Units > 0):
		return math.NaN() // and the row is refused for it
	case rd.ofPlants:
		return rec.Units
	case rec.Plant != "":
		return 1
	case rd.unit != "" && rd.unit != "leaf":
		return rec.Units
	}
	return math.NaN()
}

// over is how many of the plants are at or above the tally; NaN where it is not given, or
// wrong, which refuses the row where the shares are asked for or nothing else is entered.
func (rd *reader) over(plants float64) float64 {
	if rd.text(colOver) == "" {
		return math.NaN()
	}
	wrong := func(what, fix string) float64 {
		if rd.shares || rd.notCounted() {
			rd.refuse(colOver, what, fix)
		} else {
			rd.doubt(colOver, what+"; not used", fix)
		}
		return math.NaN()
	}
	v, err := rd.parseCell(colOver)
	switch {
	case err != nil:
		return wrong(err.Error(), fixOf(err, colOver))
	case math.IsNaN(plants) && rd.ofPlants: // said of that column
		return math.NaN()
	case math.IsNaN(plants):
		return wrong("does not say of how many plants", "add a column plants, with how many were looked at")
	case v < 0 || v != math.Trunc(v):
		return wrong("is no whole number of plants", "write on how many plants, 0 if there were none")
	case v > plants:
		return wrong(fmt.Sprintf("is more than the %g plants looked at", plants), "correct the one that is wrong")
	}
	return v
}

// yesWords and notWords are what people write for a sign, in small letters without
// accents: English, German, Spanish. Common practice, no source.
var (
	yesWords = map[string]bool{"yes": true, "y": true, "x": true, "true": true, "ja": true, "j": true, "si": true, "s": true, "present": true}
	notWords = map[string]bool{"no": true, "n": true, "false": true, "nein": true, "none": true, "absent": true, "-": true}
)

// sign is how many of the plants show a sign. A word or a number that does not tell is
// kept as it was entered, and doubted.
func (rd *reader) sign(c column, plants float64) Sign {
	s := Sign{Text: rd.text(c), Number: math.NaN()}
	if s.Text == "" {
		return s
	}
	word := plainWord(strings.TrimRight(s.Text, ". "))
	v, err := rd.parseCell(c)
	switch {
	case notWords[word]:
		s.Number = 0
	case yesWords[word] && plants > 1:
		rd.doubt(c, fmt.Sprintf("does not say on how many of the %g plants; shown, not counted", plants), "write the number of plants")
	case yesWords[word]:
		s.Number = 1
	case err != nil || v < 0 || v != math.Trunc(v):
		rd.doubt(c, "is no number of plants, nor yes or no; shown, not counted", "write the number of plants")
	case v > plants:
		rd.doubt(c, fmt.Sprintf("is more than the %g plants looked at; shown, not counted", plants), "write the number of plants")
	default:
		s.Number = v
	}
	return s
}

// tallied is a number of what was found, or a word that is kept as it was entered.
func (rd *reader) tallied(c column) Sign {
	s := Sign{Text: rd.text(c), Number: math.NaN()}
	if s.Text == "" {
		return s
	}
	v, err := rd.parseCell(c)
	switch {
	case notWords[plainWord(s.Text)]:
		s.Number = 0
	case err == nil && v >= 0 && !math.IsInf(v, 0):
		s.Number = v
	}
	return s
}
