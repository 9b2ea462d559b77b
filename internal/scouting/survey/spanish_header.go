package survey

import (
	"fmt"
	"slices"
	"strings"
	"sync"
)

// spanish are Spanish names of columns that mean one thing: they are read too. Common
// practice, no source.
var spanish = [columns]string{
	colStop: "punto parada", colLongitude: "longitud", colLatitude: "latitud",
	colCount: "pulgones conteo", colMean: "pulgones_por_hoja promedio_por_hoja", colLeaves: "hojas hojas_revisadas número_de_hojas",
	colPlant: "planta", colLeaf: "hoja", colDate: "fecha", colTime: "hora", colObserver: "observador", colNotes: "notas observaciones",
}

// names are all that a column may be called, its own first.
func (c column) names() []string {
	return append(slices.Clone(headers[c]), strings.Fields(spanish[c])...)
}

// spanishHeaders are those names as [same] folds them.
var spanishHeaders = sync.OnceValue(func() *map[string]column {
	words := map[string]column{}
	for c, list := range spanish {
		for word := range strings.FieldsSeq(list) {
			words[same(word)] = column(c)
		}
	}
	return &words
})

func isSpanish(header string) bool {
	_, is := (*spanishHeaders())[same(header)]
	return is
}

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
