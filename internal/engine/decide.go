package engine

import (
	"context"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

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
	if m.own != nil {
		return m.ownVerdicts(r)
	}
	return m.verdictsBy(m, r)
}

// ownVerdicts are those of fields each of which is judged by a rule and costs of its own.
// All are asked at once of each that differ, as fields tell of one another.
func (m *morning) ownVerdicts(r *assess.Result) (answers []verdict.Verdict, err error) {
	type by struct{ infested, loss float64 }
	known := map[by]map[string]verdict.Verdict{}
	for _, f := range r.Fields {
		own, ok := m.own[f.Name]
		if !ok {
			own = m
		}
		key := by{own.infested, own.Settings.Loss}
		if known[key] == nil {
			all, err := m.verdictsBy(own, r)
			if err != nil {
				return nil, err
			}
			known[key] = map[string]verdict.Verdict{}
			for _, v := range all {
				known[key][v.Field] = v
			}
		}
		if v, ok := known[key][f.Name]; ok {
			answers = append(answers, v)
		}
	}
	return answers, nil
}

// verdictsBy are those by the settings of another morning.
func (*morning) verdictsBy(m *morning, r *assess.Result) ([]verdict.Verdict, error) {
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
