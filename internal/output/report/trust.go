package report

import (
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// TrustText says whether a map may be believed.
func TrustText(t assess.Trust) string { return TrustTextIn(t, figures.Both) }

// TrustTextIn is [TrustText] in a language.
func TrustTextIn(t assess.Trust, u figures.Units) string {
	word := u.Language().Word
	switch {
	case slices.Contains(t.Doubts, assess.PartOnly):
		return spokenFor(t.Layout, u)
	case t.Believed() && t.BySaving():
		return u.Say("%s: spraying the treat zone is expected to save %.2f treatments of the field", word(vocabulary.TrustBetterForDeciding), t.Saves)
	case t.Believed():
		return u.Say("%s: skill %.2f", word(vocabulary.TrustBetter), t.Score.Skill)
	case t.Quiet && t.Stops >= assess.LeastStops:
		return word(vocabulary.TrustNothingToMap)
	}
	return word(vocabulary.TrustNoBetter)
}

// PlainTrusted is [TrustText] without figures.
func PlainTrusted(t assess.Trust, u figures.Units) string {
	switch {
	case slices.Contains(t.Doubts, assess.PartOnly):
		return spokenFor(t.Layout, u)
	case t.Believed():
		return u.Text("the map is better than the average")
	}
	return u.Text("the map is no better than the average")
}

// NothingToMap is said of a clean field, whose map tells no spots as there are none.
func NothingToMap(u figures.Units) string {
	return Sentence(u.Language().Word(vocabulary.TrustNothingToMap))
}

// TrustLine says of a field whether its map may be believed, and of a clean one that
// there is nothing to map; figures and reasons stand elsewhere.
func TrustLine(r *assess.Result, f *assess.Field, u figures.Units) string {
	switch t := f.Trust; {
	case !t.Believed() && f.Clean(r.Levels.Levels):
		return NothingToMap(u)
	case t.Believed() || slices.Contains(t.Doubts, assess.PartOnly):
		return Sentence(PlainTrusted(t, u))
	default:
		return u.Say("%s, so do not go by it alone", Sentence(PlainTrusted(t, u)))
	}
}

// TrustReasons are why a map may not be believed, a clause each.
func TrustReasons(t assess.Trust) []string { return TrustReasonsIn(t, figures.Both) }

// TrustReasonsIn are [TrustReasons] in a language.
func TrustReasonsIn(t assess.Trust, u figures.Units) (reasons []string) {
	for _, d := range t.Doubts {
		switch d {
		case assess.PartOnly:
			reasons = append(reasons, u.Text("the stops stand in a part of the field or along a line"))
		case assess.FewStops:
			counted := u.Counted(t.Stops, "stop")
			if t.Places < t.Stops {
				counted = u.Counted(t.Places, "place")
			}
			reasons = append(reasons, u.Say("%s, fewer than %d", counted, assess.LeastStops))
		case assess.NoSkill:
			reasons = append(reasons, u.Say("left out, stops are predicted hardly better by their neighbours than by the mean (skill %.2f)", t.Score.Skill))
		case assess.MostEmpty:
			reasons = append(reasons, u.Say("%d of %d stops are empty, more than %s", t.Empty, t.Stops, u.Whole(assess.MostEmptyShare)))
		}
	}
	return reasons
}

// SpokenFor says of what ground stops speak that span little of a field, and what to do.
func SpokenFor(l layout.Layout) string { return spokenFor(l, figures.Both) }

func spokenFor(l layout.Layout, u figures.Units) string {
	return u.Say("these stops speak for %.2g ha only: walk the rest of the field, or decide on that part", figures.Hectares(l.Area))
}
