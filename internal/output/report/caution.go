package report

import "github.com/geocoris/geocoris/internal/language/figures"

// Cautions stand on every screen and in every file that may lead to a spraying.
// They preset nothing: rates, intervals, buffers and limits are the label's.
var cautions = [...]string{
	"A recommendation, not an order: the label is the law; licensed people and local rules decide.",
	"Rate, re-entry and pre-harvest interval, buffer to water, wind limit: read them off the label in hand.",
	"Honeydew draws bees: look for bloom in and round the field, and tell the keepers before spraying.",
	"Do not spray in a calm inversion, nor with wind towards people, water or sensitive crops.",
	"A zone finer than the distance between stops is no evidence; treating the whole field stays a choice.",
}

// Cautions returns the usual cautions, one sentence or two each.
func Cautions() []string { return CautionsIn(figures.Both) }

// CautionsIn are [Cautions] in a language.
func CautionsIn(u figures.Units) []string { return textsIn(u, cautions[:]...) }

func textsIn(u figures.Units, english ...string) (texts []string) {
	for _, text := range english {
		texts = append(texts, u.Text(text))
	}
	return texts
}

// levelsCaution goes with every level shown.
const levelsCaution = "thresholds differ by region and year: the local extension service and the label come first"

// BriefCautions are the two that a short screen has room for; files have them all.
func BriefCautions(u figures.Units) []string {
	return textsIn(u,
		"The label is the law. Local rules and levels, and licensed people, come first.",
		"Bees and drift: look for bloom, tell the bee keepers, and mind wind and water.",
	)
}
