package jobsheet

import "github.com/geocoris/geocoris/internal/language/figures"

// cautions stand on every sheet and screen. They preset nothing.
var cautions = [...]string{
	"The label is the law. Rate, re-entry and pre-harvest interval, buffer to water and wind limit: read them off the label in hand and fill them in. Nothing here presets them.",
	"Without a limit on the label a usual wind is 3–8 mph (5–13 km/h), blowing away from people, water and sensitive crops. Never spray in a calm inversion.",
	"Honeydew draws bees: look for bloom in and round the field, and tell the keepers before spraying.",
	"Applicators, and in some places advisers, need a licence; drones need approvals of their own. Keep the record: for a US private applicator and a restricted-use product within 14 days, for 2 years, spot sprays too.",
	"One dose or none: do not lower the rate in a zone. A zone finer than the distance between stops is no evidence; treating the whole field stays a choice.",
	"A recommendation: licensed people and local rules decide.",
}

// Cautions returns the usual cautions.
func Cautions() []string { return cautions[:] }

// cautionsIn are [Cautions] in a language.
func cautionsIn(u figures.Units) (texts []string) {
	for _, english := range cautions {
		texts = append(texts, u.Text(english))
	}
	return texts
}
