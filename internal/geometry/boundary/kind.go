package boundary

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo"
)

// closedWords name ground in or beside a field that is none: what a scout outlines
// to leave it out. Those of askedWords are names of fields as well, and only asked for; those
// of askedFirst, in Spanish, stand before what tells more of it, the others behind. Common
// practice, no source.
var (
	closedWords = wordSet(`
	pond ponds water lake lakes lagoon reservoir dam waterway waterways ditch ditches drain drains creek stream
	river canal wetland wetlands marsh swamp slough
	house houses homestead farmstead yard yards farmyard barn barns shed sheds silo silos bin bins building
	buildings garage road roads lane driveway path track parking cemetery septic
	tree trees wood woods woodland woodlot forest bush bushes hedge hedges shelterbelt windbreak
	hive hives beehive beehives apiary buffer setback
	rock rocks rockpile stones pad pads pylon tower pole poles hole holes exclusion exclude excluded nospray
`)
	askedWords = wordSet(`tank tanks sump pit pits gully ravine dugout dugouts spot` + spanishClosed)
	askedFirst = wordSet(spanishClosed)
)

const spanishClosed = `
	estanque estanques laguna lagunas charca charcas lago lagos presa represa embalse arroyo rio río acequia zanja dren
	playa playas humedal pantano ciénaga cienega casa casas corral corrales bodega granero establo camino carretera calle
	árbol arbol árboles arboles arboleda bosque roca rocas piedra piedras torre poste colmena colmenas colmenar apiario
`

// besideWords may stand with them and change nothing, as numbers and single letters
// may. What stands behind one of placing tells where something else is, unless a heap is
// of it: West of pond and By the creek are fields.
var (
	besideWords = wordSet(`
	the a an and old new big large small little upper lower north south east west do zone ft feet meters metres
	farm stock irrigation pivot well oil pump power grain rock stone pile no area polygon bee cattle
	la el los las y norte sur este oeste grande chico chica nuevo nueva viejo vieja
` + placingWords)
	placing = wordSet(placingWords)
	heaps   = wordSet(`pile area polygon`)
)

const placingWords = ` of in at by near behind beside de del en `

// forbidden are ways to say that ground is not to be sprayed, as one word of closedWords.
var forbidden = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("no spray", "nospray", "no-spray", "nospray", "not spray", "nospray", "don't spray", "nospray", "keep off", "nospray", "keep out", "nospray",
		"no fumigar", "nospray", "no rociar", "nospray", "no aplicar", "nospray", "no asperjar", "nospray")
})

// kindProperties tell what an outline is; the last two do by any value but no.
// Common practice, no source.
var (
	kindProperties = wordSet(`type kind class category use natural landuse landcover water waterway building`)
	anyProperties  = wordSet(`waterway building`)
)

// wordSet is the set of words, made when it is first asked for: a phone's engine is ready the
// sooner.
func wordSet(text string) func() map[string]bool {
	return sync.OnceValue(func() map[string]bool {
		set := map[string]bool{}
		for w := range strings.FieldsSeq(text) {
			set[w] = true
		}
		return set
	})
}

// byName is why an outline is no field where its name alone says so.
const byName = "is no field, by its name"

// A Counted is a stop, in degrees, with the field that its row names, "" for none.
type Counted struct {
	At    [2]float64
	Field string
}

// Claim takes outlines for fields that are none by their name alone, such as River: those
// that lie in no field, have more than one stop deep in them, and a grower, or rows of these
// stops that call the field so. Why says it of each of those taken.
func (o Outlines) Claim(stops []Counted) (claimed Outlines, taken []NoField, why []string, err error) {
	var left []NoField
	for _, n := range o.NoField {
		reason := ""
		if n.alone && n.Why == byName {
			if reason, err = n.claimedBy(stops); err != nil {
				return o, nil, nil, err
			}
		}
		if reason == "" {
			left = append(left, n)
			continue
		}
		taken, why = append(taken, n), append(why, reason)
		o.Fields = append(slices.Clip(o.Fields), n.Field)
		o.Closed = slices.DeleteFunc(slices.Clone(o.Closed), func(f geo.Field) bool { return f.Name == n.Name })
	}
	if taken != nil {
		o.NoField = left
	}
	return o, taken, why, nil
}

// claimedBy is why an outline is a field all the same; "" where nothing says so.
func (n NoField) claimedBy(stops []Counted) (why string, err error) {
	var all, named [][2]float64
	for _, s := range stops {
		all = append(all, s.At)
		if s.Field != "" && strings.EqualFold(strings.TrimSpace(s.Field), n.Name) {
			named = append(named, s.At)
		}
	}
	in, err := countIn(n.Field, all, deep)
	if err != nil || in < 2 {
		return "", err
	}
	calls, err := countIn(n.Field, named, deep)
	switch {
	case err != nil:
		return "", err
	case calls > 0:
		return fmt.Sprintf("%q is named like ground that is no field, but %d stops lie in it and the counts call it a field: taken for one", n.Name, in), nil
	case n.Customer != "":
		return fmt.Sprintf("%q is named like ground that is no field, but %d stops lie in it and it has a grower: taken for a field", n.Name, in), nil
	}
	return "", nil
}

// closedBy says why an outline is no field, such as "is water (natural=water)", from a
// property that tells its kind or from its name; "" where nothing says so. A name says so only if all
// of it does: Pond 2 does, Pond field does not.
func closedBy(f geo.Feature, name string) string {
	for _, p := range f.Properties {
		key, value := strings.ToLower(p.Name), text(p.Value)
		switch {
		case !kindProperties()[key] || value == "":
		case saysClosed(value), anyProperties()[key] && !strings.EqualFold(value, "no"):
			return fmt.Sprintf("is %s (%s=%s)", thing(key, value), p.Name, value)
		}
	}
	if saysClosed(name) {
		return byName
	}
	return ""
}

// thing is what an outline is by a property.
func thing(key, value string) string {
	if saysClosed(value) {
		return strings.ToLower(value)
	}
	return "a " + key
}

func saysClosed(text string) (closed bool) {
	before := ""
	for _, w := range wordsOf(text) {
		switch {
		case placing()[w] && !closed && !heaps()[before]:
			return false
		case closedWords()[w]:
			closed = true
		case !changesNothing(w):
			return false
		}
		before = w
	}
	return closed
}

// changesNothing reports whether a word says nothing of what an outline is.
func changesNothing(w string) bool {
	return besideWords()[w] || strings.Trim(w, "0123456789") == "" || utf8.RuneCountInString(w) == 1
}

func wordsOf(text string) []string {
	return strings.FieldsFunc(forbidden().Replace(strings.ToLower(text)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// mayBeClosed reports whether an outline may be no field by its name, as Duck Pond, Laguna and
// "No spray: garden" may: what it calls the thing is such a word, or it is not to be sprayed.
func mayBeClosed(name string) bool {
	first, last := "", ""
	if slices.Contains(wordsOf(name), "nospray") {
		return true
	}
	for _, w := range wordsOf(name) {
		if placing()[w] {
			break
		}
		if !changesNothing(w) {
			first, last = cmp.Or(first, w), w
		}
	}
	return closedWords()[last] || askedWords()[last] || askedFirst()[first]
}
