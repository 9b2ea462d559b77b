package engine

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// byRule takes the rule into the settings and, so that they can be repeated, into
// the options. Without one nothing changes, but samples of a pest that needs a rule
// stop here.
func (m *morning) byRule(set assess.Settings, counts *survey.Survey) (assess.Settings, []string, error) {
	o := &m.Settings
	if list, err := m.rosterOn(m.fields); err != nil {
		return set, nil, err
	} else if list.judges() {
		return m.byRoster(set, list, counts.Pest)
	}
	if o.Rule == "" {
		notes, err := m.noRule(counts)
		return set, notes, err
	}
	if o.TreatAt != 0 || o.Tally != 0 {
		return set, nil, usage(errors.New("--rule sets treat level and tally: leave out --treat-at and --tally"))
	}
	rule, book, err := m.rule(counts)
	if err != nil {
		return set, nil, err
	}
	m.infested = rule.InfestedShare / 100
	stage, notes := stageOf(o.Stage, counts)
	notes = append(notes, notesOf(rule, counts)...)
	if stage == "" && !sameAtAll(rule, counts) {
		m.staged = nil
		o.Unit, set.ByField = rule.Unit, m.stageByField(rule, book, set.Levels)
		set.Statistic.Unit = rule.Unit
		return set, notes, nil
	}
	level, err := m.level(rule, book, stage, counts.Stops)
	if err != nil {
		return set, nil, err
	}
	set.Levels, set.Statistic = assess.ByRule(level, set.Levels)
	o.Unit, o.Tally, o.Part, o.Sign, o.Stage = set.Statistic.Unit, set.Statistic.Tally, set.Statistic.Part, set.Statistic.Sign, stage
	o.NextVisit, o.Doubling = set.Levels.NextVisit, set.Levels.Doubling
	m.loseBy(level)
	return set, notes, nil
}

// rule is the one asked for, if it is one for the samples.
func (m *morning) rule(counts *survey.Survey) (rule rules.Rule, book *rules.Book, err error) {
	if book, err = m.ruleBook(); err != nil {
		return rule, nil, err
	}
	if rule, err = book.Named(m.Settings.Rule); err != nil {
		return rule, nil, hinted(err, "geocoris rules lists them")
	}
	if counts.Pest != "" && !rules.SamePest(rule.Pest, counts.Pest) {
		return rule, nil, hinted(fmt.Errorf("rule %s is for %s, the samples are of %s", rule.Name, rule.Pest, counts.Pest), fitting(book, counts.Pest))
	}
	if unit := m.Settings.Unit; unit != "leaf" && unit != rule.Unit {
		return rule, nil, usage(fmt.Errorf("rule %s counts by the %s, not by the %s: leave out --unit", rule.Name, rule.Unit, unit))
	}
	return rule, book, nil
}

// level is the rule's at a stage, by the prices given, if stops can feed it. Without a
// stage it is that of all stages of the stops, where it is one.
func (m *morning) level(rule rules.Rule, book *rules.Book, stage string, stops []survey.Stop) (level rules.Level, err error) {
	prices := m.Settings.prices()
	if stages := stagesOf(stops); stage == "" && len(stages) > 1 {
		level, err = atAll(rule, stages, prices)
	} else {
		level, err = rule.AtPrices(stage, prices)
	}
	if err != nil {
		return rules.Level{}, err
	}
	if err := assess.CanFeed(level, &survey.Survey{Stops: stops}); err != nil {
		return rules.Level{}, hinted(err, fitting(book, rule.Pest))
	}
	return level, nil
}

// stageByField takes the rule in each field at the stage of the stops in it.
func (m *morning) stageByField(rule rules.Rule, book *rules.Book, given assess.LevelSettings) assess.ByField {
	return func(field string, stops []survey.Stop) (assess.LevelSettings, assess.Statistic, error) {
		stages, stage := stagesOf(stops), ""
		if len(stages) == 1 {
			stage = stages[0].band
		}
		level, err := m.level(rule, book, stage, stops)
		switch {
		case err != nil && len(stages) == 0:
			err = HintedError{Err: fmt.Errorf("field %q: its rows give no growth stage, and rule %s has a level of its own at each", field, rule.Name),
				Hint: "fill in the column stage, or give --stage for all fields", OnPage: "fill in the column stage, or choose the “Growth stage” for all fields"}
		case err != nil:
			err = fmt.Errorf("field %q: %w", field, err)
		}
		if err != nil {
			return assess.LevelSettings{}, assess.Statistic{}, err
		}
		if note := fmt.Sprintf("field %q: the rule is taken at %s, the stage of its rows", field, stage); stage != "" && !slices.Contains(m.staged, note) {
			m.staged = append(m.staged, note)
		}
		set, statistic := assess.ByRule(level, given)
		return set, statistic, nil
	}
}

// loseBy takes the loss of yield from the level, where prices were given for it and no
// loss, so that money and level go by the same.
func (m *morning) loseBy(level rules.Level) {
	if o := &m.Settings; level.Loss > 0 && o.Loss == 0 {
		o.Loss = level.Loss * o.Per.squareMetres() / geo.SquareMetresPerAcre
	}
}

// notesOf are what a rule takes for granted of the samples.
func notesOf(rule rules.Rule, counts *survey.Survey) (notes []string) {
	if counts.Pest == "" {
		notes = append(notes, fmt.Sprintf("the samples name no pest: taken as %s, which the rule is for", rule.Pest))
	}
	if rule.Unit != "leaf" && rule.Part == "" && vocabulary.UnitOf(rule.Unit).Size == 1 && slices.ContainsFunc(counts.Stops, ofWhatever) {
		notes = append(notes, fmt.Sprintf("the rule counts by the %s: the effort of each row is taken as %s", rule.Unit, rules.Plural(rule.Unit)))
	}
	if at := overWithoutTally(counts); rule.Statistic == rules.Share && at != "" {
		notes = append(notes, at+" does not say from how many on a plant counts: plants_over is taken for what the rule asks for; a column at_or_above would say it")
	}
	if rule.InfestedShare > 0 {
		notes = append(notes, fmt.Sprintf("the rule also asks for %g %% of %s infested: the verdict looks at it where the samples say it", rule.InfestedShare, rules.Plural(rule.Unit)))
	}
	return notes
}

// ofWhatever reports that a stop has rows of so many units, and no column says of what.
func ofWhatever(s survey.Stop) bool {
	return slices.ContainsFunc(s.Records, func(r survey.Record) bool { return r.Looked.Of == "" && !r.Looked.Assumed })
}

// overWithoutTally is the first row, as file and line, that tells plants over a tally and
// not which; "" for none.
func overWithoutTally(counts *survey.Survey) string {
	for _, s := range counts.Stops {
		for _, r := range s.Records {
			if r.Seen != nil && !math.IsNaN(r.Seen.Over) && r.Seen.AtOrAbove == "" {
				return fmt.Sprintf("%s:%d", r.File, r.Line)
			}
		}
	}
	return ""
}

// noRule stops samples of a pest that the preset level is not for, where rules are
// known that are; where the preset stands in, it tells if it is silent at the stage
// of the samples.
func (m *morning) noRule(counts *survey.Survey) (notes []string, err error) {
	o := m.Settings
	if err := assess.OfAnother(o.Unit, counts.Stops); err != nil && o.Part == "" && o.Sign == "" {
		return nil, err
	}
	switch {
	case o.Stage != "":
		return nil, usage(errors.New("--stage goes with --rule"))
	case o.TreatAt != 0 || o.Tally != 0:
		return nil, nil
	}
	book, err := m.ruleBook()
	if err != nil {
		return nil, err
	}
	if counts.Pest == "" || assess.IsSorghumAphid(counts.Pest) {
		return presetAtStage(book, counts), nil
	}
	if len(book.OfPest(counts.Pest)) == 0 {
		return nil, nil // what assesses says what is missing
	}
	return nil, hinted(fmt.Errorf("no level is set for %q: choose a rule with --rule, or give --treat-at from your local extension service or label", counts.Pest),
		fitting(book, counts.Pest))
}

func presetAtStage(book *rules.Book, counts *survey.Survey) (notes []string) {
	preset, ok := book.Default("sorghum aphid")
	if !ok {
		return nil
	}
	stages := stagesOf(counts.Stops)
	for _, t := range stages {
		if _, err := preset.At(t.band); err != nil {
			note := err.Error() + ": its level may not hold here"
			if len(stages) > 1 {
				note = fmt.Sprintf("%s, from stop %s on", note, t.stop)
			}
			notes = append(notes, note)
		}
	}
	return notes
}

// fitting names the rules for a pest.
func fitting(book *rules.Book, pest string) string {
	var names []string
	for _, r := range book.OfPest(pest) {
		names = append(names, fmt.Sprintf("%s (%s)", r.Name, r.About))
	}
	if len(names) == 0 {
		return fmt.Sprintf("no rule is known for %s; geocoris rules lists those there are, --rules takes your own", pest)
	}
	return fmt.Sprintf("rules for %s: %s", pest, strings.Join(names, "; "))
}
