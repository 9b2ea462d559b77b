package survey

import (
	"slices"
	"strings"
	"sync"
)

// sumNames are what people and spreadsheets call a row that sums up those above it, in
// small letters without accents: English, German, Spanish, French. Common practice,
// no source.
var sumNames = sync.OnceValue(func() *map[string]bool {
	m := map[string]bool{}
	for _, name := range []string{
		"total", "totals", "grand total", "subtotal", "sub total", "sum", "sums", "mean", "means", "average", "averages", "avg", "median",
		"summe", "gesamt", "gesamtsumme", "gesamtergebnis", "zwischensumme", "mittel", "mittelwert", "durchschnitt",
		"suma", "total general", "promedio", "media", "somme", "total generale", "moyenne", "stdev", "std dev", "standard deviation",
	} {
		m[name] = true
	}
	return &m
})

// extremes are names of the least and the most of others. Somebody may be called Max, and a
// place be named so, so a row is taken for one only where it has no position.
const extremes = " max min maximum minimum maximo minimo maximal minimal highest lowest "

// sumsUp reports whether a row is named as a sum, mean or extreme of others: by its stop, or
// by its first filled cell where the stop is blank or has no column.
func (rd *reader) sumsUp() bool {
	name := rd.text(colStop)
	for i := 0; name == "" && i < len(rd.row.Cells); i++ {
		name = strings.TrimSpace(rd.row.Cells[i])
	}
	return namesSum(name) || rd.placeless(name) && (namesTotal(name) || rd.has(colLatitude) && namesExtreme(name))
}

// placeless reports whether a row has no place, but for its name.
func (rd *reader) placeless(name string) bool {
	if name == "" || name[0] >= '0' && name[0] <= '9' { // nearly all
		return false
	}
	for _, c := range [...]column{colLongitude, colLatitude, colEasting, colNorthing, colWKT} {
		if rd.text(c) != "" && rd.text(c) != name {
			return false
		}
	}
	return true
}

// namesTotal reports whether a name is that of a total of something, such as "north total"
// or "total 2".
func namesTotal(name string) bool {
	return slices.ContainsFunc(strings.Fields(plainWord(name)), func(w string) bool {
		return (*sumNames())[strings.Trim(w, ":.")] && strings.Contains(w, "total")
	})
}

// namesExtreme reports whether a name is that of the most or the least.
func namesExtreme(name string) bool {
	return strings.Contains(extremes, " "+plainWord(strings.TrimRight(name, ": ."))+" ")
}

// namesSum reports whether a name is that of a sum or a mean.
func namesSum(name string) bool {
	if name == "" || name[0] >= '0' && name[0] <= '9' || len(name) > len("standard deviation:") { // nearly all
		return false
	}
	return (*sumNames())[strings.TrimRight(strings.Join(strings.Fields(plainWord(name)), " "), ": .")]
}
