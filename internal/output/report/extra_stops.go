package report

import "github.com/geocoris/geocoris/internal/language/figures"

// ExtraStopsText says that a mean leaves out extra stops: 2 extra stops are not in the
// mean.
func ExtraStopsText(n int) string {
	if n == 1 {
		return "1 extra stop is not in the mean"
	}
	return figures.Counted(n, "extra stop") + " are not in the mean"
}
