package survey

import (
	"slices"
	"strings"
	"sync"
)

// foreignWords are headers of other languages. They only lead to an offer, as many of
// them mean several things; Spanish ones that mean one thing are read (spanish).
// Common practice, no source.
var foreignWords = sync.OnceValue(func() *map[string]column {
	words := map[string]column{}
	for c, list := range map[column]string{
		colStop:      "stelle punkt probe stopp nr muestra ponto amostra arrêt arret échantillon echantillon",
		colLongitude: "länge laenge längengrad laengengrad",
		colLatitude:  "breite breitengrad",
		colCount:     "anzahl zahl läuse laeuse blattläuse blattlaeuse cuenta contagem pulgões pulgoes nombre comptage pucerons",
		colLeaves:    "blätter blaetter folhas feuilles",
		colDate:      "datum tag data jour",
		colTime:      "zeit uhrzeit heure",
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
