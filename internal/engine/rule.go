package engine

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// RuleSettings are what a map goes by beside its levels: a rule, and money.
type RuleSettings struct {
	Rule  string `toml:"rule" json:"rule,omitempty"`
	Stage string `toml:"stage" json:"stage,omitempty"`
	Rules string `toml:"rules" json:"rules,omitempty"` // file of the user's own
	Part  string `toml:"-" json:"part,omitempty"`      // set by the rule: see [assess.Statistic]
	Sign  string `toml:"-" json:"sign,omitempty"`      // likewise

	Cost    float64 `toml:"cost" json:"cost,omitempty"`
	SpotJob float64 `toml:"spot-job" json:"spot-job,omitempty"`
	Price   float64 `toml:"price" json:"price,omitempty"`
	Loss    float64 `toml:"loss" json:"loss,omitempty"`
	Control float64 `toml:"control" json:"control,omitempty"`
	Heads   float64 `toml:"heads" json:"heads,omitempty"`

	SpotControl float64 `toml:"spot-control" json:"spot-control,omitempty"`
	Stop        float64 `toml:"stop-cost" json:"stop-cost,omitempty"`

	Per PerArea `toml:"per" json:"per"`

	SprayIn float64 `toml:"spray-in" json:"spray-in,omitempty"`

	Verdict VerdictSettings `toml:"verdict" json:"verdict"` // of a settings file only
}

// VerdictSettings are the thresholds of the verdict's table, under [verdict] in a
// settings file; what they mean stands at [verdict.Settings].
type VerdictSettings struct {
	LeastInside    int     `toml:"least-inside" json:"least-inside,omitempty"`
	LeastStops     int     `toml:"least-stops" json:"least-stops,omitempty"`
	MostStops      int     `toml:"most-stops" json:"most-stops,omitempty"`
	WholeShare     float64 `toml:"whole-share" json:"whole-share,omitempty"`
	Everywhere     float64 `toml:"everywhere" json:"everywhere,omitempty"`
	UnscoutedShare float64 `toml:"unscouted-share" json:"unscouted-share,omitempty"`
	UnscoutedLeft  float64 `toml:"unscouted-left" json:"unscouted-left,omitempty"`
	RevisitFound   float64 `toml:"revisit-found" json:"revisit-found,omitempty"`
	Seed           uint64  `toml:"seed" json:"seed,omitempty"`
}

func (o VerdictSettings) settings() verdict.Settings {
	return verdict.Settings{
		LeastInside: o.LeastInside, LeastStops: o.LeastStops, MostStops: o.MostStops,
		WholeShare: o.WholeShare, Everywhere: o.Everywhere, UnscoutedShare: o.UnscoutedShare, UnscoutedLeft: o.UnscoutedLeft, RevisitFound: o.RevisitFound,
		Statistics: fieldstats.Settings{Seed: o.Seed},
	}
}

// verdictSettingsOf are settings as a settings file has them.
func verdictSettingsOf(s verdict.Settings) VerdictSettings {
	return VerdictSettings{
		LeastInside: s.LeastInside, LeastStops: s.LeastStops, MostStops: s.MostStops,
		WholeShare: s.WholeShare, Everywhere: s.Everywhere, UnscoutedShare: s.UnscoutedShare, UnscoutedLeft: s.UnscoutedLeft, RevisitFound: s.RevisitFound,
		Seed: cmp.Or(s.Statistics.Seed, fieldstats.DefaultSeed),
	}
}

// PerArea is the area that money is for: a hectare where nothing else is said.
type PerArea struct{ Acre bool }

func (p *PerArea) Set(text string) error {
	switch text {
	case "acre":
		p.Acre = true
	case "hectare":
		p.Acre = false
	default:
		return errors.New("want hectare or acre")
	}
	return nil
}

func (p *PerArea) String() string {
	if p.Acre {
		return "acre"
	}
	return "hectare"
}

func (p *PerArea) Type() string { return "area" }

// UnmarshalText takes a text of a settings file.
func (p *PerArea) UnmarshalText(text []byte) error { return p.Set(string(text)) }

// MarshalText writes what [PerArea.Set] reads.
func (p PerArea) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

func (p PerArea) squareMetres() float64 {
	if p.Acre {
		return geo.SquareMetresPerAcre
	}
	return geo.SquareMetresPerHectare
}

// byRule takes the rule into the settings and, so that they can be repeated, into
// the options. Without one nothing changes, but samples of a pest that needs a rule
// stop here.
func (m *morning) byRule(set assess.Settings, counts *survey.Survey) (assess.Settings, []string, error) {
	o := &m.Settings
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
			err = hinted(fmt.Errorf("field %q: its rows give no growth stage, and rule %s has a level of its own at each", field, rule.Name), "fill in the column stage, or give --stage for all fields")
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

// prices are what was given of cost and price, for an acre.
func (o RuleSettings) prices() rules.Prices {
	return rules.Prices{Cost: o.Cost * geo.SquareMetresPerAcre / o.Per.squareMetres(), Price: o.Price, Heads: o.Heads * geo.SquareMetresPerAcre / o.Per.squareMetres()}
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
	if rule.Unit != "leaf" && rule.Part == "" {
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

// assess assesses once, or where the spray is days away twice: the first time tells
// by how much treat ground grows until then.
func (m *morning) assess(ctx context.Context, fields []geo.Field, counts *survey.Survey, set assess.Settings) (*assess.Result, error) {
	first := set
	first.KeepSurface = set.KeepSurface && m.Settings.SprayIn == 0
	r, err := assess.Run(ctx, fields, counts, first)
	if err != nil || m.Settings.SprayIn == 0 {
		return r, err
	}
	if set.Growth, err = assess.GrowthOf(r, m.Settings.SprayIn); err != nil {
		return nil, err
	}
	if r, err = assess.Run(ctx, fields, counts, set); err != nil {
		return nil, err
	}
	for _, f := range r.Fields {
		if g := f.Settings.Growth; g.Margin > 0 {
			r.Notes = append(r.Notes, fmt.Sprintf("field %q: treat ground is grown by %s for the %g days from its count until the spray: infested ground grew by 65 %% a week (Backoulou et al. 2018, Southwest. Entomol. 43:823–832)", f.Name, figures.Metric.Length(g.Margin), g.Days))
		}
	}
	return r, nil
}

// verdicts are those of a result.
func (m *morning) verdicts(r *assess.Result) ([]verdict.Verdict, error) {
	o := m.Settings
	set := o.Verdict.settings()
	set.InfestedShare = m.infested
	if o.Cost != 0 || o.SpotJob != 0 || o.Price != 0 || o.Loss != 0 || o.Control != 0 || o.SpotControl != 0 || o.Stop != 0 {
		per := o.Per.squareMetres()
		set.Money = &verdict.Money{Cost: o.Cost / per, SpotJob: o.SpotJob, Price: o.Price, Loss: o.Loss / per, Control: o.Control, SpotControl: o.SpotControl, Stop: o.Stop}
	}
	return verdict.Of(r, set)
}

// tooLate tells of fields whose map is no longer good when the spray comes, and of those
// whose first counts were too old when the last were taken.
func (m *morning) tooLate(r *assess.Result) (notes []string) {
	age := map[string]float64{}
	for _, f := range r.Fields {
		age[f.Name] = f.Settings.Growth.Days
	}
	for _, v := range m.answers {
		if age[v.Field] > v.GoodFor {
			notes = append(notes, fmt.Sprintf("%s: the map is good for %g days and the spray comes %g days after its count: walk it again first", v.Field, v.GoodFor, age[v.Field]))
		}
		if v.Stale {
			notes = append(notes, fmt.Sprintf("%s: its first counts are so old that the map was good until %s only, before the last were taken: count those stops again", v.Field, v.GoodUntil))
		}
	}
	return notes
}
