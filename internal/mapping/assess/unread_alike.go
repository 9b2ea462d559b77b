package assess

import "github.com/geocoris/geocoris/internal/scouting/survey"

// stopKey is what rows not read are gathered by: the name of their stop, without one
// their position.
type stopKey struct {
	file, stop, date string
	at               [2]float64
	row              int // of rows that are put together with no other
}

func keyOf(u survey.Unread, row int) stopKey {
	k := stopKey{file: u.File, stop: u.Row.Stop, date: u.Row.Date}
	switch named := k.stop != ""; {
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
func alike(unread []survey.Unread) (groups [][]survey.Unread) {
	type name struct{ file, stop string }
	at, named := map[stopKey]int{}, map[name]int{}
	for _, shifted := range []bool{false, true} {
		for i, u := range unread {
			if u.Shifted != shifted {
				continue
			}
			k := keyOf(u, i)
			n, known := at[k]
			if shifted && !known && u.Row.Stop != "" {
				n, known = named[name{u.File, u.Row.Stop}]
			}
			if !known {
				n, groups = len(groups), append(groups, nil)
				at[k] = n
			}
			if !shifted {
				named[name{u.File, u.Row.Stop}] = n
			}
			groups[n] = append(groups[n], u)
		}
	}
	return groups
}
