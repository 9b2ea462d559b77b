package survey

import (
	"slices"
	"strings"
	"sync"
)

// foreignWords are headers of other languages. They only lead to an offer, as many of
// them mean several things. Common practice, no source.
var foreignWords = sync.OnceValue(func() *map[string]column {
	words := map[string]column{}
	for c, list := range map[column]string{
		colStop:      "stelle punkt probe stopp nr parada punto muestra ponto amostra arrêt arret échantillon echantillon",
		colLongitude: "länge laenge längengrad laengengrad longitud",
		colLatitude:  "breite breitengrad latitud",
		colCount:     "anzahl zahl läuse laeuse blattläuse blattlaeuse conteo cuenta pulgones contagem pulgões pulgoes nombre comptage pucerons",
		colLeaves:    "blätter blaetter hojas folhas feuilles",
		colDate:      "datum tag fecha data jour",
		colTime:      "zeit uhrzeit hora heure",
	} {
		for _, word := range strings.Fields(list) {
			words[same(word)] = c
		}
	}
	return &words
})

func (t table) has(header string) bool {
	return slices.ContainsFunc(t.Header, func(h string) bool { return same(h) == same(header) })
}

// seemsRow tells a header that is a row.
func seemsRow(header []string) bool {
	return slices.ContainsFunc(header, func(h string) bool { return isPlain(strings.TrimSpace(h)) })
}
