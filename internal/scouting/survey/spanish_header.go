package survey

import (
	"fmt"
	"strings"
)

// spanishHeaders are those among the headers that are read.
var spanishHeaders = wordSet("punto parada longitud latitud pulgones conteo pulgonesporhoja promedioporhoja hojas hojasrevisadas númerodehojas planta hoja fecha hora observador notas observaciones")

func isSpanish(header string) bool { return spanishHeaders()[same(header)] }

// doubtSpanish refuses a table with a Spanish column that is not read and without which the
// map would be another: of two pests, or of extra stops.
func (l *layout) doubtSpanish(t table, unused []int) error {
	for _, i := range unused {
		h := strings.TrimSpace(t.Header[i])
		switch same(h) {
		case "plaga", "especie", "insecto":
			if values := valuesOf(t, i); l.at[colPest] < 0 && len(values) > 1 {
				return fmt.Errorf("%s: column %s seems to name the pest, and it names %d: give --map %q and --pest with the one to be mapped, or --map %q if it does not",
					t.File, quote(h), len(values), h+"=pest", h+"=notes")
			}
		case "tipo", "clase":
			if _, extra := valuesOf(t, i)["extra"]; l.at[colKind] < 0 && extra {
				return fmt.Errorf("%s: column %s seems to say which stops are extra: give --map %q if it does, or --map %q if not",
					t.File, quote(h), h+"=kind", h+"=notes")
			}
		}
	}
	return nil
}

// valuesOf are what stands in a column, without regard to case.
func valuesOf(t table, i int) map[string]bool {
	values := map[string]bool{}
	for _, r := range t.Rows {
		if i < len(r.Cells) && strings.TrimSpace(r.Cells[i]) != "" {
			values[strings.ToLower(strings.TrimSpace(r.Cells[i]))] = true
		}
	}
	return values
}
