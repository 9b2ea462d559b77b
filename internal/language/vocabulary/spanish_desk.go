//go:build !small

package vocabulary

import "maps"

// withDesk adds what job sheets and pages of a laptop say, which no phone makes.
func withDesk(all map[string]string) {
	maps.Copy(all, spanishJob())
	maps.Copy(all, spanishPage())
	maps.Copy(all, spanishRows())
	maps.Copy(all, spanishNotes())
	maps.Copy(all, spanishField())
}
