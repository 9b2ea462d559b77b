package survey

import "strings"

// kindOfStop reads how a stop came about, by its first word: Extra stop is extra. known is false
// where it is neither of the two.
func kindOfStop(text string) (extra, planned, known bool) {
	word, _, _ := strings.Cut(strings.ToLower(text), " ")
	word = strings.Trim(word, ",;:.()")
	extra, planned = word == "extra", word == "planned" || word == "planificado"
	return extra, planned, extra || planned || text == ""
}
