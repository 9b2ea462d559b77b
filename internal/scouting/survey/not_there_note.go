package survey

import "strings"

// notThere are what people note at a stop that they could not get to, in small letters without
// accents: English, Spanish.
var notThere = [...]string{
	"too wet", "too muddy", "flooded", "under water", "no access", "inaccessible", "not walked", "not visited", "not reached", "skipped", "could not enter", "could not get", "couldn't get", "did not enter", "fence locked", "gate locked", "irrigating",
	"muy mojado", "demasiado mojado", "inundado", "con agua", "mucho lodo", "sin acceso", "no se entro", "no se pudo entrar", "no se llego", "no visitado", "no recorrido", "saltado", "regando",
}

// saysNotThere reports whether a note tells why nobody was at a stop.
func saysNotThere(note string) bool {
	text := plainWord(note)
	for _, said := range notThere {
		if strings.Contains(text, said) {
			return true
		}
	}
	return false
}
