package assess

import "github.com/geocoris/geocoris/internal/scouting/survey"

// fieldsNamed are the fields by the names that rows may give them, as [survey.NameKey] has them. A
// name of two fields is none, nor is one that a stop gives which lies in another field: there the
// rows mean something else by it.
func fieldsNamed(sites []site, stops [][]Stop) map[string]int {
	const none = -1
	named := make(map[string]int, len(sites))
	for f, s := range sites {
		key := survey.NameKey(s.field.Name)
		if _, twice := named[key]; twice || key == "" {
			f = none
		}
		named[key] = f
	}
	for f := range stops {
		last := ""
		for i := range stops[f] {
			name := stops[f][i].Records[0].Field
			if name == last { // nearly all
				continue
			}
			last = name
			if of, known := named[survey.NameKey(name)]; known && of != f {
				named[survey.NameKey(name)] = none
			}
		}
	}
	for key, f := range named {
		if f == none {
			delete(named, key)
		}
	}
	return named
}
