package engine

import (
	"errors"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// A Tally is counting under way: lines go in, an answer comes out after each stop.
type Tally struct {
	Words   fieldwork.Tally
	tally   *sampling.Tally
	history []sampling.Tally // before each line that can be taken back
}

// A TallyAnswer is what stands after a stop.
type TallyAnswer struct {
	sampling.Answer
	words fieldwork.Tally
}

// Check refuses a plan that cannot be meant.
func (o TallySettings) Check() error {
	if _, err := o.plan(); err != nil {
		return usage(err)
	}
	return nil
}

// NewTally begins to count by a plan. A plan that cannot be meant is an error of usage.
func NewTally(o TallySettings) (*Tally, error) {
	p, err := o.plan()
	if err != nil {
		return nil, usage(err)
	}
	t, err := sampling.NewTally(p.Rule, o.stops())
	if err != nil {
		return nil, err
	}
	return &Tally{Words: fieldwork.Tally{Plan: p, Said: figures.Both.In(o.Language)}, tally: t}, nil
}

// TallyPlans are the plans that are known by name.
func TallyPlans() (all []fieldwork.Tally) {
	for _, p := range sampling.Plans() {
		all = append(all, fieldwork.Tally{Plan: p})
	}
	return all
}

// Stops is how many were counted.
func (t *Tally) Stops() int { return t.tally.Answer().Stops }

// Enter takes in a line as it was typed: a stop, more leaves of the last one, undo or
// end. The answer is nil where the line holds nothing or ends the counting. A line that
// cannot be used is an error and changes nothing.
func (t *Tally) Enter(line string) (answer *TallyAnswer, ended bool, err error) {
	entry, err := sampling.ParseEntry(line, t.Words.Plan.AtOr)
	if err != nil || entry.Kind == sampling.Blank {
		return nil, false, err
	}
	if entry.Kind == sampling.End {
		return nil, true, nil
	}
	if cells := sampling.Unsure(line); entry.Kind != sampling.Undo && t.Words.Share() && cells != nil {
		return nil, false, errors.New(t.Words.Asked(cells))
	}
	if u := vocabulary.UnitOf(t.Words.Plan.Unit); u.Size > 1 && entry.Kind != sampling.Undo {
		if !strings.Contains(line, "/") { // of one thing each, or of all in a unit
			return nil, false, errors.New(t.Words.Asked(strings.Fields(strings.TrimPrefix(strings.TrimSpace(line), "+"))))
		}
		entry.Count.Units /= float64(u.Size)
	}
	a, err := t.take(entry)
	if err != nil {
		return nil, false, err
	}
	return &TallyAnswer{a, t.Words}, false, nil
}

// take takes in an entry, or the last one back.
func (t *Tally) take(e sampling.Entry) (a sampling.Answer, err error) {
	if e.Kind == sampling.Undo {
		if n := len(t.history); n > 0 {
			*t.tally, t.history = t.history[n-1], t.history[:n-1]
		}
		return t.tally.Answer(), nil
	}
	before := t.tally.Copy()
	if e.Kind == sampling.More {
		a, err = t.tally.Join(t.Stops()-1, e.Count)
	} else {
		a, err = t.tally.Add(e.Count)
	}
	if err == nil {
		t.history = append(t.history, before)
	}
	return a, err
}

// Done tells that counting may end.
func (a TallyAnswer) Done() bool { return a.Verdict != sampling.GoOn }

// Line is the answer in words, on a line of its own.
func (a TallyAnswer) Line() string { return a.words.Line(a.Answer) }

// JSON is the answer as an object, on a line of its own.
func (a TallyAnswer) JSON() (string, error) { return a.words.JSON(a.Answer) }
