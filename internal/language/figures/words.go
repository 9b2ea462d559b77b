package figures

// Words and numbers in the language of a choice of units.

// Say is [vocabulary.Language.Say] in the language.
func (u Units) Say(form string, args ...any) string { return u.language.Say(form, args...) }

// Text is [vocabulary.Language.Text] in the language.
func (u Units) Text(english string) string { return u.language.Text(english) }

// Counted is a number of things: 1 stop, 2 stops, 1,200 stops.
func (u Units) Counted(n int, thing string) string {
	return u.Number(n) + " " + u.language.Things(n, thing)
}

// Number is a whole number as [Units.Counted] writes it: 12, 1,200.
func (u Units) Number(n int) string { return u.signs().Places(float64(n), 0) }

// Short is [Signs.Short] in the language.
func (u Units) Short(v float64) string { return u.signs().Short(v) }

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
