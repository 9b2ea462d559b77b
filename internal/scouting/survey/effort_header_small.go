//go:build small

package survey

import "github.com/geocoris/geocoris/internal/language/vocabulary"

// meaningFor reads the headers of a phone's table: how many were looked at stands under the
// name of what counts are of. Walks of before have leaves there, one in each row.
func meaningFor(t table, opts Options) (meaning func(header string) (column, bool), e effort, err error) {
	plain := func(header string) (column, bool) {
		c, known := (*meanings())[same(header)]
		return c, known
	}
	if opts.Unit != "" {
		e.unit = vocabulary.UnitOf(opts.Unit)
	}
	own := e.column()
	if own == colLeaves.String() || !t.has(own) {
		return plain, e, nil
	}
	e.of = e.unit.Thing
	return func(header string) (column, bool) {
		if same(header) == same(own) {
			return colLeaves, true
		}
		c, known := plain(header)
		return c, known && c != colLeaves
	}, e, nil
}
