package report

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// ExtraStopsText says that a mean leaves out extra stops: 2 extra stops are not in the
// mean.
func ExtraStopsText(n int) string {
	if n == 1 {
		return "1 extra stop is not in the mean"
	}
	return figures.Counted(n, "extra stop") + " are not in the mean"
}

// TogetherText says that a mean leaves out stops that nobody marked: those of a crowd, or
// of a walk round a hot stop, by the name of the stop that stands for their place.
func TogetherText(stop string, t assess.Together) string {
	n := figures.Counted(len(t.Others), "more stop")
	if t.Round {
		return fmt.Sprintf("%s within %.0f m of stop %s, which is at or over the spray level, are taken as a walk round it and are not in the mean", n, max(1, math.Ceil(t.Within)), stop)
	}
	return fmt.Sprintf("%s within %.0f m of stop %s, where places lie about %.0f m apart, count for one place with it and are not in the mean", n, max(1, math.Ceil(t.Within)), stop, t.Spacing)
}
