package engine

import (
	"context"
	"fmt"
	"sync"

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
	if m.Settings.SprayIn != 0 {
		first.KeepSurface, first.Each, first.Forget, first.Keeper = false, nil, true, nil
	}
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

// A bench judges fields one by one, as they are assessed.
type bench struct {
	of     *morning
	closed func(*assess.Field) // tells a field's stops what they stand in
	shut   assess.ShutAt       // of a place
	mu     sync.Mutex
	judges map[judgedBy]verdict.Judge
	given  map[*assess.Field]verdict.Verdict
}

// judgedBy is in what fields that have rules and costs of their own may differ.
type judgedBy struct{ infested, loss float64 }

func (m *morning) bench(g ground) *bench {
	return &bench{of: m, closed: g.tellClosed, shut: g.shutAt, judges: map[judgedBy]verdict.Judge{}, given: map[*assess.Field]verdict.Verdict{}}
}

// take judges a field that has just been assessed.
func (b *bench) take(r *assess.Result, f *assess.Field) error {
	judge, err := b.judge(r, f)
	if err != nil {
		return err
	}
	b.closed(f)
	b.give(f, judge.Of(f))
	return nil
}

// give takes the answer for a field.
func (b *bench) give(f *assess.Field, v verdict.Verdict) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.given[f] = v
}

// judge is that of a field.
func (b *bench) judge(r *assess.Result, f *assess.Field) (verdict.Judge, error) {
	own, ok := b.of.own[f.Name]
	if !ok {
		own = b.of
	}
	by := judgedBy{own.infested, own.Settings.Loss}
	b.mu.Lock()
	defer b.mu.Unlock()
	if judge, known := b.judges[by]; known {
		return judge, nil
	}
	judge, err := verdict.JudgeOf(r, own.judging())
	if err == nil {
		judge = judge.Beside(b.shut)
		b.judges[by] = judge
	}
	return judge, err
}

// answers are all that were given, in the order of the fields.
func (b *bench) answers(r *assess.Result) (all []verdict.Verdict) {
	for _, f := range r.Fields {
		if v, ok := b.given[f]; ok {
			all = append(all, v)
		}
	}
	return all
}

// judging are the settings of verdicts.
func (m *morning) judging() verdict.Settings {
	o := m.Settings
	set := o.Verdict.settings()
	set.InfestedShare, set.Memory = m.infested, m.Memory
	if o.Cost != 0 || o.SpotJob != 0 || o.Price != 0 || o.Loss != 0 || o.Control != 0 || o.SpotControl != 0 || o.Stop != 0 {
		per := o.Per.squareMetres()
		set.Money = &verdict.Money{Cost: o.Cost / per, SpotJob: o.SpotJob, Price: o.Price, Loss: o.Loss / per, Control: o.Control, SpotControl: o.SpotControl, Stop: o.Stop}
	}
	return set
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
