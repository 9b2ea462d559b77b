package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// sameAtAll reports whether a rule says the same at every stage of the stops, all of
// which tell one, or at every stage there is.
func sameAtAll(rule rules.Rule, counts *survey.Survey) bool {
	stages := stagesOf(counts.Stops)
	if len(stages) == 0 {
		return true // which a rule may ask for
	}
	_, err := atAll(rule, stages, rules.Prices{Cost: 1, Price: 1, Heads: 1})
	if err != nil {
		return len(stages) == 1 && !slices.ContainsFunc(counts.Stops, func(s survey.Stop) bool { return s.Stage == "" })
	}
	_, err = rule.AtPrices("", rules.Prices{Cost: 1, Price: 1, Heads: 1})
	return err == nil || !slices.ContainsFunc(counts.Stops, func(s survey.Stop) bool { return s.Stage == "" })
}

// A namedStage is a band of growth stages that samples name, and the first stop that does.
type namedStage struct{ band, stop string }

func (s namedStage) String() string { return fmt.Sprintf("%s (stop %s)", s.band, s.stop) }

// stagesOf are those of stops, in their order.
func stagesOf(stops []survey.Stop) (all []namedStage) {
	for _, s := range stops {
		if s.Stage == "" {
			continue
		}
		band := rules.StageBand(s.Stage)
		if !slices.ContainsFunc(all, func(t namedStage) bool { return t.band == band }) {
			all = append(all, namedStage{band, s.Name})
		}
	}
	return all
}

func listedStages(all []namedStage) string {
	words := make([]string, len(all))
	for i, t := range all {
		words[i] = t.String()
	}
	return strings.Join(words, ", ")
}

// stageOf is the stage asked for, or the one all samples are in; where they are in
// several, none.
func stageOf(asked string, counts *survey.Survey) (stage string, notes []string) {
	stages := stagesOf(counts.Stops)
	if asked != "" {
		others := slices.DeleteFunc(stages, func(t namedStage) bool { return t.band == rules.StageBand(asked) })
		if len(others) > 0 {
			notes = []string{fmt.Sprintf("the rule is taken at %s, as asked; the samples say %s", rules.StageBand(asked), listedStages(others))}
		}
		return asked, notes
	}
	blank := slices.ContainsFunc(counts.Stops, func(s survey.Stop) bool { return s.Stage == "" })
	switch {
	case len(stages) == 0 || len(stages) == 1 && blank:
		return "", nil
	case len(stages) == 1:
		return stages[0].band, []string{fmt.Sprintf("growth stage %s is that of the samples", stages[0].band)}
	}
	return "", []string{"the samples are of several growth stages: " + listedStages(stages)}
}

// atAll is the level of a rule at every stage of the samples, where it is one.
func atAll(rule rules.Rule, stages []namedStage, prices rules.Prices) (rules.Level, error) {
	first, err := rule.AtPrices(stages[0].band, prices)
	if err != nil {
		return rules.Level{}, fmt.Errorf("stop %s: %w", stages[0].stop, err)
	}
	for _, t := range stages[1:] {
		l, err := rule.AtPrices(t.band, prices)
		if err != nil {
			return rules.Level{}, fmt.Errorf("stop %s: %w", t.stop, err)
		}
		if !l.Band.Same(first.Band) {
			return rules.Level{}, hinted(fmt.Errorf("its rows are of several growth stages, %s, and rule %s has a level of its own at each", listedStages(stages), rule.Name),
				"draw each part as a field of its own, or give --stage for all")
		}
	}
	first.Stage = "" // it holds at several
	return first, nil
}
