package report

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// doubtsOf are what may make an answer wrong, in each language by its code, for who reads
// the zones without the map's screen; nil for none. What zones tell by themselves
// (not_read) is left out, and what changes nothing of the ground.
func doubtsOf(r *assess.Result, f *assess.Field, v verdict.Verdict) map[string][]string {
	all := map[string][]string{}
	for _, l := range []vocabulary.Language{vocabulary.English, vocabulary.Spanish} {
		if said := doubts(r, f, v, figures.Both.In(l)); len(said) > 0 {
			all[l.String()] = said
		}
	}
	return all
}

func doubts(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) []string {
	return sentencesOf(append([]string{takenAsOne(f, u), guessedDay(r, f, u), assumedPest(r, u)},
		append(oddUnitsOf(r, f, v, u), slipsOf(r, f, u), outOfPlaceOf(r, f, v, u), sharedPlaces(r, f, v, u), twiceOf(r, f, u), unplacedOf(r, f, v, u), undatedOf(v, u), awayOf(r, f, v, u), staleOf(f, v, u), alongALine(f, u), nobodyNear(f, v, u))...)...)
}
