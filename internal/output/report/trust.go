package report

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// TrustText says whether a map may be believed.
func TrustText(t assess.Trust) string {
	switch {
	case slices.Contains(t.Doubts, assess.PartOnly):
		return SpokenFor(t.Layout)
	case t.Believed() && t.BySaving():
		return fmt.Sprintf("%s: spraying the treat zone is expected to save %.2f treatments of the field", said.Word(vocabulary.TrustBetterForDeciding), t.Saves)
	case t.Believed():
		return fmt.Sprintf("%s: skill %.2f", said.Word(vocabulary.TrustBetter), t.Score.Skill)
	case t.Quiet && t.Stops >= assess.LeastStops:
		return said.Word(vocabulary.TrustNothingToMap)
	}
	return said.Word(vocabulary.TrustNoBetter)
}

// PlainTrusted is [TrustText] without figures.
func PlainTrusted(t assess.Trust) string {
	switch {
	case slices.Contains(t.Doubts, assess.PartOnly):
		return SpokenFor(t.Layout)
	case t.Believed():
		return "the map is better than the average"
	}
	return "the map is no better than the average"
}

// NothingToMap is said of a clean field, whose map tells no spots as there are none.
func NothingToMap() string { return Sentence(said.Word(vocabulary.TrustNothingToMap)) }

// TrustLine says of a field whether its map may be believed, and of a clean one that
// there is nothing to map.
func TrustLine(r *assess.Result, f *assess.Field) string {
	if !f.Trust.Believed() && f.Clean(r.Levels.Levels) {
		return NothingToMap()
	}
	return "Trust: " + TrustText(f.Trust)
}

// TrustReasons are why a map may not be believed, a clause each.
func TrustReasons(t assess.Trust) (reasons []string) {
	for _, d := range t.Doubts {
		switch d {
		case assess.PartOnly:
			reasons = append(reasons, "the stops stand in a part of the field or along a line")
		case assess.FewStops:
			reasons = append(reasons, fmt.Sprintf("%s, fewer than %d", figures.Counted(t.Stops, "stop"), assess.LeastStops))
		case assess.NoSkill:
			reasons = append(reasons, fmt.Sprintf("left out, stops are predicted hardly better by their neighbours than by the mean (skill %.2f)", t.Score.Skill))
		case assess.MostEmpty:
			reasons = append(reasons, fmt.Sprintf("%d of %d stops are empty, more than %s", t.Empty, t.Stops, figures.Whole(assess.MostEmptyShare)))
		}
	}
	return reasons
}

// SpokenFor says of what ground stops speak that span little of a field, and what to do.
func SpokenFor(l layout.Layout) string {
	return fmt.Sprintf("these stops speak for %.2g ha only: walk the rest of the field, or decide on that part", figures.Hectares(l.Area))
}
