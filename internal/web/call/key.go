package call

import (
	"context"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// markFacts are a mark to look at, with the answers it can have.
type markFacts struct {
	Name     string        `json:"name"`
	Question string        `json:"question"`
	Decides  bool          `json:"decides"`
	Answers  []answerWords `json:"answers"`
}

type answerWords struct {
	Word string `json:"word"` // by which it is asked
	Says string `json:"says"`
}

// speciesFacts are a species, with the marks that it shows where any answer does not do.
type speciesFacts struct {
	Name    string              `json:"name"`
	Latin   string              `json:"latin"`
	Shows   map[string][]string `json:"shows"`
	Against []string            `json:"against"` // marks seen that rule it out; none where it fits
}

type keyFacts struct {
	Marks   []markFacts    `json:"marks"`
	Decided bool           `json:"decided"`
	Species []speciesFacts `json:"species"` // those that fit first
	LookAt  []string       `json:"look_at"` // marks that part those that fit
}

// aphid says which aphid the marks seen fit. Without any it lists them all.
func aphid(_ context.Context, r request) (any, []engine.File, error) {
	o := struct {
		Seen     map[string]string   `json:"seen"`
		Form     string              `json:"form"`
		Language vocabulary.Language `json:"language"`
	}{Form: engine.Wingless}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	v, err := engine.JudgeAphid(engine.KeyRequest{Seen: o.Seen, Form: o.Form})
	if err != nil {
		return nil, nil, err
	}
	u := figures.Both.In(o.Language)
	facts := keyFacts{Marks: marksIn(u), Decided: v.Decided, LookAt: some(v.LookAt)}
	facts.Species = []speciesFacts{}
	for _, s := range v.Fits {
		facts.Species = append(facts.Species, speciesFacts{u.Language().Pest(s.Name), s.Latin, showsOf(s), []string{}})
	}
	for _, s := range v.RuledOut {
		facts.Species = append(facts.Species, speciesFacts{u.Language().Pest(s.Name), s.Latin, showsOf(s), s.Marks})
	}
	return facts, nil, nil
}

func marksIn(u figures.Units) (all []markFacts) {
	for _, m := range engine.KeyMarks() {
		f := markFacts{Name: m.Name, Question: u.Text(m.Question), Decides: m.Decides}
		for _, a := range m.Answers {
			f.Answers = append(f.Answers, answerWords{a.Word, u.Text(m.Says(a.Word))})
		}
		all = append(all, f)
	}
	return all
}

func showsOf(s interface{ Shows(mark string) []string }) map[string][]string {
	shows := map[string][]string{}
	for _, m := range engine.KeyMarks() {
		if answers := s.Shows(m.Name); len(answers) > 0 {
			shows[m.Name] = answers
		}
	}
	return shows
}
