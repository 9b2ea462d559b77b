package assess

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// noField stands for no field, or none that is sure.
const noField = -1

// fieldNames are the fields by the names that rows may give them.
type fieldNames struct {
	of        map[string]int  // by [survey.NameKey] of what the boundary's file calls them; noField where two may be meant
	otherwise map[string]bool // files whose rows mean something else by the names
}

// fieldsNamed are the names of fields that rows may be trusted with: none where the boundary's file
// leaves a field without a name, as a row may mean it by any; none of a file of counts in which a
// row names one field and lies in another or in none.
func (r *Result) fieldsNamed(ix index, stops [][]Stop) fieldNames {
	n := fieldNames{of: written(ix.sites), otherwise: map[string]bool{}}
	if n.of == nil {
		return n
	}
	for f := range stops {
		for i := range stops[f] {
			n.compare(stops[f][i].Records, ix.sites, f)
		}
	}
	for i := range r.Away {
		n.compare(r.Away[i].Records, ix.sites, noField)
	}
	for _, u := range r.Survey.Unread {
		if !u.Shifted && (u.Placed || u.Offered) {
			at := ix.find(orb.Point{u.Row.Longitude, u.Row.Latitude})
			n.compare([]survey.Record{u.Row}, ix.sites, at.field)
		}
	}
	return n
}

// written are the fields by their names as the boundary's file has them; nil where it leaves one
// without. One that is called by a name because its own was another's makes that name unsure.
func written(sites []site) map[string]int {
	of := make(map[string]int, len(sites))
	claim := func(name string, f int) {
		key := survey.NameKey(name)
		if other, claimed := of[key]; claimed && other != f {
			f = noField
		}
		of[key] = f
	}
	for f, s := range sites {
		if survey.NameKey(s.field.Written) == "" {
			return nil
		}
		claim(s.field.Written, f)
	}
	for f, s := range sites {
		if _, known := of[survey.NameKey(s.field.Name)]; known {
			claim(s.field.Name, f)
		}
	}
	return of
}

// compare holds what rows of one place name against the field in which it lies.
func (n fieldNames) compare(rows []survey.Record, sites []site, lies int) {
	last := ""
	for i := range rows {
		name := rows[i].Field
		if name == last { // nearly all
			continue
		}
		last = name
		key := survey.NameKey(name)
		if _, known := n.of[key]; known && (lies == noField || survey.NameKey(sites[lies].field.Written) != key) {
			n.otherwise[rows[i].File] = true
		}
	}
}

// field is the one that a row names; ok is false where it names none that is sure.
func (n fieldNames) field(u survey.Unread) (f int, ok bool) {
	f, ok = n.of[survey.NameKey(u.Row.Field)]
	return f, ok && f != noField && !u.Shifted && !n.otherwise[u.File]
}

// ofStop is the field that rows of one stop name: those without a name, as of merged cells, go by
// the others. It is noField where none names one, or two name different ones.
func (n fieldNames) ofStop(rows []survey.Unread) int {
	of := noField
	for _, u := range rows {
		if u.Shifted || survey.NameKey(u.Row.Field) == "" {
			continue
		}
		f, ok := n.field(u)
		if !ok || of != noField && f != of {
			return noField
		}
		of = f
	}
	return of
}

// apart are the stops, by the keys of their rows, of which every row names a field: stops of two
// fields that are called alike.
func (n fieldNames) apart(unread []survey.Unread) map[stopKey]bool {
	apart := map[stopKey]bool{}
	if len(n.of) == 0 {
		return apart
	}
	for i, u := range unread {
		k := keyOf(u, i)
		before, known := apart[k]
		_, ok := n.field(u)
		apart[k] = ok && (before || !known)
	}
	return apart
}
