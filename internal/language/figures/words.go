package figures

import (
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Words and numbers in the language of a choice of units.

// Say is [vocabulary.Language.Say] in the language.
func (u Units) Say(form string, args ...any) string { return u.language.Say(form, args...) }

// Text is [vocabulary.Language.Text] in the language.
func (u Units) Text(english string) string { return u.language.Text(english) }

// Counted is a number of things: 1 stop, 2 stops, 1,200 stops.
func (u Units) Counted(n int, thing string) string {
	return u.Number(n) + " " + u.language.Things(n, thing)
}

// Each names what a mean is for, behind its number: a leaf, an ear, in 10 sweeps.
func (u Units) Each(unit string) string {
	one := u.language.Things(1, vocabulary.UnitOf(unit).String())
	switch {
	case vocabulary.UnitOf(unit).Size > 1:
		return u.Say("in %s", one)
	case strings.ContainsAny(strings.ToLower(one[:1]), "aeio"):
		return u.Say("an %s", one)
	}
	return u.Say("a %s", one)
}

// Number is a whole number as [Units.Counted] writes it: 12, 1,200.
func (u Units) Number(n int) string { return u.signs().Places(float64(n), 0) }

// Short is [Signs.Short] in the language.
func (u Units) Short(v float64) string { return u.signs().Short(v) }

// Level is [Signs.Level] in the language.
func (u Units) Level(v float64) string { return u.signs().Level(v) }

// Fixed is [Signs.Fixed] in the language.
func (u Units) Fixed(v float64) string { return u.signs().Fixed(v) }

// Share is [Signs.Share] in the language.
func (u Units) Share(part float64) string { return u.signs().Share(part) }

// Percent is [Signs.Percent] in the language.
func (u Units) Percent(part float64) string { return u.signs().Percent(part) }

// Whole is [Signs.Whole] in the language.
func (u Units) Whole(part float64) string { return u.signs().Whole(part) }

// Trimmed is [Signs.Trimmed] in the language.
func (u Units) Trimmed(v float64, decimals int) string { return u.signs().Trimmed(v, decimals) }

func (u Units) signs() Signs { return SignsOf(u.language) }
