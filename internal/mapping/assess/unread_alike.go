package assess

import (
	"slices"
	"strings"
	"unicode"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// stopKey is what rows not read are gathered by: the name of their stop, without one
// their position.
type stopKey struct {
	file, stop, date string
	field            int // 1 and up, of stops of several fields that are called alike
	at               [2]float64
	row              int // of rows that are put together with no other
	block            int // of rows without name and place that are of one stop
}

func keyOf(u survey.Unread, row int) stopKey {
	k := stopKey{file: u.File, stop: u.Row.Stop, date: u.Row.Date}
	switch named := k.stop != ""; {
	case !named && !u.Placed && u.Block > 0:
		k.block = u.Block
	case !named && !u.Placed, u.Shifted && !(named && u.Placed):
		return stopKey{row: 1 + row}
	case u.Shifted: // what stands under the date may be none
		k.date = ""
		fallthrough
	case !named:
		k.at = [2]float64{u.Row.Longitude, u.Row.Latitude}
	}
	return k
}

// alike puts together the rows of each stop, in order of first appearance. A shifted row
// whose first cells name a stop is one of its rows; where the stop has others these come
// first, as what they tell is sure.
func (n fieldNames) alike(unread []survey.Unread) (groups [][]survey.Unread) {
	type name struct{ file, stop string }
	at, named, apart := map[stopKey]int{}, map[name]int{}, n.apart(unread)
	for _, shifted := range []bool{false, true} {
		for i, u := range unread {
			if u.Shifted != shifted {
				continue
			}
			k := keyOf(u, i)
			if f, _ := n.field(u); apart[k] {
				k.field = 1 + f
			}
			g, known := at[k]
			if shifted && !known && u.Row.Stop != "" {
				g, known = named[name{u.File, u.Row.Stop}]
			}
			if !known {
				g, groups = len(groups), append(groups, nil)
				at[k] = g
			}
			if !shifted {
				named[name{u.File, u.Row.Stop}] = g
			}
			groups[g] = append(groups[g], u)
		}
	}
	return groups
}

// sharesOf is how likely a stop of a name, without a place, is each field's: by the stops
// used of the fields that its letters tell, else of all. Letters tell the fields whose
// stops have them before their numbers; where none has, the one field without a stop whose
// name begins with them. That a field is without stops tells nothing by itself: where half
// of a walk has lost its places, the other half is not to be mapped as the whole.
func sharesOf(sites []site, stops [][]Stop, name string) []float64 {
	lead, numbered := lettersOf(name)
	told, begun := make([]bool, len(stops)), make([]bool, len(stops))
	some, begins := 0, 0
	for f := range stops {
		told[f] = numbered && slices.ContainsFunc(stops[f], func(s Stop) bool {
			letters, ok := lettersOf(s.Records[0].Stop)
			return ok && letters == lead
		})
		begun[f] = lead != "" && len(stops[f]) == 0 && strings.HasPrefix(strings.ToLower(sites[f].field.Name), lead)
		if told[f] {
			some++
		}
		if begun[f] {
			begins++
		}
	}
	shares, all := make([]float64, len(stops)), 0.0
	for f := range stops {
		switch {
		case some == 0 && begins == 1 && begun[f]:
			shares[f] = 1
		case told[f], some == 0 && begins != 1:
			shares[f] = float64(len(stops[f]))
		}
		all += shares[f]
	}
	for f := range shares {
		shares[f] /= max(1, all)
	}
	return shares
}

// lettersOf is what stands before the number of a stop's name, in small letters, without
// blanks and signs at its end: "c" of "C-44"; not numbered is a name without a number.
func lettersOf(name string) (lead string, numbered bool) {
	i := strings.IndexFunc(name, unicode.IsDigit)
	return strings.ToLower(strings.TrimRight(name[:max(0, i)], " -_.#")), i >= 0
}
