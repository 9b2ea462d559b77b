package engine

import (
	"errors"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
)

// forRule makes table and sheet of a plan ask for what a rule needs, where one is named.
func (q PlanRequest) forRule(p *fieldwork.Plan) error {
	switch {
	case q.Rule == "" && (q.Stage != "" || q.Rules != nil):
		return usage(errors.New("--stage and --rules go with --rule"))
	case q.Rule == "":
		return nil
	}
	book, err := RuleBook(q.Rules)
	if err != nil {
		return err
	}
	rule, err := book.Named(q.Rule)
	if err != nil {
		return hinted(err, "geocoris rules lists them")
	}
	frame, err := geo.FrameOf(p.Field.Boundary)
	if err != nil {
		return err
	}
	acres := geo.Area(frame.ForwardPolygons(p.Field.Boundary)) / geo.SquareMetresPerAcre
	needs, err := rule.Needs(q.Stage, len(p.Stops), acres)
	if err != nil {
		return err
	}
	p.Needs = &needs
	if p.Pest == "" {
		p.Pest = rule.Pest
	}
	return nil
}
