package survey

import "slices"

// fieldHeaders are the names of a column of fields by which stops are told apart that are called
// alike; the others of a list of fields may mean stops. Common practice, no source.
var fieldHeaders = []string{"field", "field_name", "field_id"}

// fieldColumn is the first column that names fields, -1 for none.
func fieldColumn(header []string) int {
	return slices.IndexFunc(header, func(h string) bool {
		return slices.ContainsFunc(fieldHeaders, func(name string) bool { return same(h) == same(name) })
	})
}

// localFields are further names of such a column, which are looked for in this order: campo is the
// farm where another stands beside it. They may mean plots within a field too, and so part no
// stops. Common practice, no source.
var localFields = []string{"lote", "parcela", "campo"}

// namedField is the column whose names may be those of the fields of a run, -1 for none.
func namedField(header []string) int {
	at := fieldColumn(header)
	for i := 0; at < 0 && i < len(localFields); i++ {
		at = slices.IndexFunc(header, func(h string) bool { return same(h) == localFields[i] })
	}
	return at
}
