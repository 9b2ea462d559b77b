package assess

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// mostShared is at which part of the places stops of two names are counts of one place that
// somebody went back to: at more, a second scout was there (our choice).
const mostShared = 1.0 / 2

// A SharedPlace is a place of two stops of one day and observer, by their numbers.
type SharedPlace struct {
	First, Then int
	Copied      bool // Then stands just below First with its position to the last digit
}

// SharedPlaces finds n stops that nobody marked as extra at the place of one before: to the last
// digit of the position, or as near as phones can tell among those that count for one place.
// Positions that were rounded tell nothing, plants with names of their stop share its place, and
// where many places are shared, that is how all was counted. Four and more at one position are
// none ([samePositions]), nor are two whose counts differ by no more than chance.
func SharedPlaces(s *survey.Survey, together []Together, n int, stop func(i int) *survey.Stop) []SharedPlace {
	at := make(map[dayPlace][]int, n)
	for i := range n {
		if p := dayPlaceOf(stop(i)); len(at[p]) < leastSamePosition {
			at[p] = append(at[p], i)
		}
	}
	var copied, again []SharedPlace
	take := func(first, then int, exact bool) {
		a, b := stop(first), stop(then)
		switch {
		case a.Name == b.Name, a.Date != b.Date, a.Observer != b.Observer, markedExtra(a), markedExtra(b), plantsOfOne(a.Name, b.Name):
		case exact && then == first+1 && a.Records[0].File == b.Records[0].File && !namedAfter(b.Name, a.Name):
			copied = append(copied, SharedPlace{first, then, true})
		default:
			again = append(again, SharedPlace{first, then, false})
		}
	}
	if len(at) < n {
		for i := range n {
			group := at[dayPlaceOf(stop(i))]
			if len(group) >= leastSamePosition || group[0] == i || roughFile(s, stop(i).Records[0].File) {
				continue
			}
			take(group[slices.Index(group, i)-1], i, true)
		}
	}
	for _, t := range together {
		if t.Round || t.Within > sameFix || len(t.Others) >= leastSamePosition-1 {
			continue
		}
		for _, i := range t.Others {
			if first, then := min(t.At, i), max(t.At, i); dayPlaceOf(stop(first)) != dayPlaceOf(stop(then)) {
				take(first, then, false)
			}
		}
	}
	if float64(len(copied)) > max(fewClose, mostClose*float64(len(at))) {
		copied = nil
	}
	if float64(len(again)) > mostShared*float64(len(at)) {
		again = nil
	}
	again = slices.DeleteFunc(again, func(p SharedPlace) bool { return alikeByChance(stop(p.First), stop(p.Then)) })
	return append(copied, again...)
}

func markedExtra(s *survey.Stop) bool {
	return slices.ContainsFunc(s.Records, func(r survey.Record) bool { return r.Extra })
}

func roughFile(s *survey.Survey, file string) bool {
	return slices.ContainsFunc(s.Rough, func(r survey.Rough) bool { return r.File == file })
}

// plantsOfOne reports whether two names may be of plants at one stop: its number and something
// of their own, such as 1a and 1b or 3-1 and 3-2.
func plantsOfOne(a, b string) bool {
	stem := stemOf(map[string]bool{a: true, b: true})
	if !strings.ContainsFunc(stem, unicode.IsDigit) || stem == a || stem == b {
		return false
	}
	last, _ := utf8.DecodeLastRuneInString(stem)
	return !unicode.IsDigit(last) || !digitFirst(a[len(stem):]) && !digitFirst(b[len(stem):])
}

// namedAfter reports whether a name is another with something added, such as "3 again".
func namedAfter(name, other string) bool {
	rest, is := strings.CutPrefix(name, other)
	return is && other != "" && !digitFirst(rest)
}

func digitFirst(text string) bool {
	first, _ := utf8.DecodeRuneInString(text)
	return unicode.IsDigit(first)
}

// Of counts at one place: how far units there differ, as κ of the variance m + κm² (that of the
// simulated walks), and how many standard errors two counts are apart at the most that may be
// one place's. A walk has several such pairs, and who is asked for nothing walks back for it.
// Both are our choice, no source.
const (
	unitsDiffer = 1.0
	byChance    = 3.0
)

// alikeByChance reports whether two counts may be of one mean, their units negative binomial:
// so is their sum, and Anscombe's transform (1948, Biometrika 35:246–254, from memory) of it has
// a variance that does not depend on the mean. Totals or units that are not known never are.
func alikeByChance(a, b *survey.Stop) bool {
	ya, va := stabilised(a.Total, a.Units/unitsDiffer)
	yb, vb := stabilised(b.Total, b.Units/unitsDiffer)
	return math.Abs(ya-yb) <= byChance*math.Sqrt(va+vb)
}

// stabilised is Anscombe's transform of a negative binomial number of an exponent, with its
// variance, a quarter of the trigamma function of that; NaN of an exponent of 3/4 or less.
func stabilised(number, exponent float64) (y, variance float64) {
	root := math.Sqrt((number + 3.0/8) / (exponent - 3.0/4))
	in := 1 / exponent
	return math.Log(root + math.Sqrt(float64(root*root)+1)), in * (1 + in*(1.0/2+in/6)) / 4
}
