//go:build !js && !nosqlite

package season

import (
	"fmt"
	"maps"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// joined is the visit that two copies of it make: the same counts with the same settings,
// brought by different hands. It is the same whichever is named first, and so of three in
// whatever order: authors and fields are those of both; of what is known of a field the
// later in the alphabet stays, so that something goes before nothing; what was worked out
// is taken from one copy, the one with more of it.
func joined(a, b Visit) (v Visit, lost []Loss) {
	v = a
	if workedOut(b) > workedOut(a) {
		v.Date, v.Pest, v.Unit, v.Stops, v.Zones, v.Verdicts = b.Date, b.Pest, b.Unit, b.Stops, b.Zones, b.Verdicts
	}
	v.Author = Authors(a.Author, b.Author)
	v.Fields, v.Kept = nil, nil
	for _, name := range fieldNames(a.Fields, b.Fields) {
		k, differ := knownOf(a, name).with(knownOf(b, name))
		v.Fields = append(v.Fields, k.field)
		if len(k.kept) > 0 {
			if v.Kept == nil {
				v.Kept = map[string]geo.Properties{}
			}
			v.Kept[name] = k.kept
		}
		lost = append(lost, differ...)
	}
	return v, lost
}

// fieldNames are the names of both, in their order where that is one, else sorted.
func fieldNames(a, b []geo.Field) []string {
	names := func(fields []geo.Field) (names []string) {
		for _, f := range fields {
			names = append(names, f.Name)
		}
		return names
	}
	x, y := names(a), names(b)
	if slices.Equal(x, y) {
		return x
	}
	all := slices.Concat(x, y)
	slices.Sort(all)
	return slices.Compact(all)
}

// knowledge is what a visit knows of a field.
type knowledge struct {
	field geo.Field // without a name where the visit has no such field
	kept  geo.Properties
}

func knownOf(v Visit, name string) (k knowledge) {
	if i := slices.IndexFunc(v.Fields, func(f geo.Field) bool { return f.Name == name }); i >= 0 {
		k.field = v.Fields[i]
		k.kept = v.Kept[name]
	}
	return k
}

func (k knowledge) with(other knowledge) (both knowledge, lost []Loss) {
	switch {
	case k.field.Name == "":
		return other, nil
	case other.field.Name == "":
		return k, nil
	}
	pick := func(what, a, b string) string {
		kept, left := max(a, b), min(a, b)
		if left != "" && left != kept {
			lost = append(lost, Loss{k.field.Name, what, kept, left})
		}
		return kept
	}
	both.field = k.field
	both.field.Customer = pick("customer", k.field.Customer, other.field.Customer)
	both.field.Farm = pick("farm", k.field.Farm, other.field.Farm)
	for _, name := range keptNames {
		text := func(p geo.Properties) string {
			value, _ := p.Get(name)
			s, _ := value.(string)
			return s
		}
		if value := pick(name, text(k.kept), text(other.kept)); value != "" {
			both.kept = append(both.kept, geo.Property{Name: name, Value: value})
		}
	}
	return both, lost
}

// keptNames are the properties that go with a field to the applicator.
var keptNames = [...]string{"rows", "grower"}

// workedOut orders what was worked out of copies of a visit: that with more of it is later.
func workedOut(v Visit) string {
	texts := []string{v.Date, v.Pest, v.Unit}
	n := 0
	for _, l := range v.layers() {
		n += len(*l.features)
		texts = append(texts, l.name, fmt.Sprint(len(*l.features)))
		for _, f := range *l.features {
			texts = append(texts, fmt.Sprint(f.Geometry))
			for _, column := range l.columns {
				value, _ := f.Properties.Get(column)
				texts = append(texts, fmt.Sprint(value))
			}
		}
	}
	return fmt.Sprintf("%012d %s", n, sumOf(texts...))
}

// same reports that two copies of a visit differ in nothing.
func same(a, b Visit) bool {
	return a.Author == b.Author && workedOut(a) == workedOut(b) &&
		slices.EqualFunc(a.Fields, b.Fields, func(f, g geo.Field) bool {
			return f.Name == g.Name && f.Customer == g.Customer && f.Farm == g.Farm
		}) &&
		maps.EqualFunc(a.Kept, b.Kept, slices.Equal[geo.Properties])
}
