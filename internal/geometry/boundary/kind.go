package boundary

import (
	"fmt"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo"
)

// closedWords name ground in or beside a field that is none: what a scout outlines
// to leave it out. Common practice, no source.
var closedWords = wordSet(`
	pond ponds water lake lakes lagoon reservoir dam waterway waterways ditch ditches drain drains creek stream
	river canal wetland wetlands marsh swamp slough
	house houses homestead farmstead yard yards farmyard barn barns shed sheds silo silos bin bins building
	buildings garage road roads lane driveway path track parking
	tree trees wood woods woodland woodlot forest bush bushes hedge hedges shelterbelt windbreak
	rock rocks rockpile stones pad pads pylon tower pole poles hole holes exclusion nospray
`)

// besideWords may stand with them and change nothing, as numbers and single letters
// may.
var besideWords = wordSet(`
	the a an of in at by near and old new big large small little upper lower north south east west
	farm stock irrigation pivot well oil pump power grain rock stone pile no area polygon
`)

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
		return "is no field, by its name"
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
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for _, w := range words {
		switch {
		case closedWords()[w]:
			closed = true
		case besideWords()[w], strings.Trim(w, "0123456789") == "", utf8.RuneCountInString(w) == 1:
		default:
			return false
		}
	}
	return closed
}
