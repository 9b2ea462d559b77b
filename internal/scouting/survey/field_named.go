package survey

import "slices"

// fieldHeaders are the names of a column of fields; the others of a list of fields may mean
// stops. Common practice, no source.
var fieldHeaders = []string{"field", "field_name", "field_id", "campo", "lote", "parcela"}

// fieldColumn is the first column that names fields, -1 for none.
func fieldColumn(header []string) int {
	return slices.IndexFunc(header, func(h string) bool {
		return slices.ContainsFunc(fieldHeaders, func(name string) bool { return same(h) == same(name) })
	})
}
