package call

import (
	"context"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/output/report"
)

type ruleFacts struct {
	Name      string      `json:"name"`
	Pest      string      `json:"pest"`
	Crop      string      `json:"crop"`
	Region    string      `json:"region"`
	Title     string      `json:"title"` // pest and region, to choose by, in the language
	About     string      `json:"about"`
	Source    string      `json:"source"`
	Note      string      `json:"note"`
	Statistic string      `json:"statistic"` // mean or share
	Unit      string      `json:"unit"`
	Looked    string      `json:"looked"` // column of how many were looked at
	Things    string      `json:"things"` // several of what is looked at, in the language
	Size      int         `json:"size"`   // of them in a unit: 10 where it is 10 sweeps
	Default   bool        `json:"default"`
	Bands     []bandFacts `json:"bands"`
}

// bandFacts are the level of a rule at some growth stages, and how it is counted.
type bandFacts struct {
	Stages  []string `json:"stages"` // none is any
	Says    string   `json:"says"`
	Value   float64  `json:"value"`
	To      float64  `json:"to"`
	Tally   float64  `json:"tally"`
	Sign    string   `json:"sign"`
	Shows   string   `json:"shows"` // the sign in the language
	Advice  string   `json:"advice"`
	Counted string   `json:"counted"` // number, over, sign or none
	Units   int      `json:"units"`   // at a stop: plants where leaves of plants are counted
	Parts   int      `json:"parts"`   // of a unit; 1 where it has none
	How     string   `json:"how"`
}

func rules(_ context.Context, r request) (any, []engine.File, error) {
	var o struct {
		Pest     string              `json:"pest"`
		Language vocabulary.Language `json:"language"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	u, q := figures.Both.In(o.Language), engine.RulesRequest{Pest: o.Pest}
	for _, own := range r.all(Rules) {
		q.Own = &own
	}
	shown, err := engine.Rules(q)
	if err != nil {
		return nil, nil, err
	}
	all := []ruleFacts{}
	for _, rule := range shown {
		of := vocabulary.UnitOf(rule.Unit)
		f := ruleFacts{
			Name: rule.Name, Pest: rule.Pest, Crop: rule.Crop, Region: rule.Region, About: rule.About, Source: rule.Cited(), Note: rule.Note,
			Statistic: rule.Statistic, Unit: rule.Unit, Default: rule.Default, Bands: []bandFacts{},
			Looked: of.Column(), Size: of.Size, Things: u.Language().Things(2, of.Thing),
			Title: u.Language().Pest(rule.Pest) + ": " + u.Text(rule.Region),
		}
		for _, b := range rule.Bands {
			band := bandFacts{
				Stages: some(b.Stages), Says: fieldwork.RuleLevel(rule, b, u), Value: b.Value, To: b.To, Tally: b.Tally, Sign: b.Sign, Shows: u.Text(b.Sign), Advice: u.Text(b.Advice), Counted: "number", Parts: 1,
			}
			switch {
			case b.Value == 0 && b.Loss == 0 && rule.Formula == "":
				band.Counted = "none"
			case b.Sign != "":
				band.Counted = "sign"
			case b.Tally > 0:
				band.Counted = "over"
			}
			stage := ""
			if len(b.Stages) > 0 {
				stage = b.Stages[0]
			}
			if needs, err := rule.Needs(stage, 0, 0); err == nil {
				band.Units, band.Parts, band.How = needs.Units, needs.Parts, fieldwork.RuleCounting(needs, u)
			}
			f.Bands = append(f.Bands, band)
		}
		all = append(all, f)
	}
	return map[string]any{"caution": u.Text(report.LevelsCaution), "cautions": report.BriefCautions(u), "rules": all}, nil, nil
}
