package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// A RulesRequest asks which threshold rules there are.
type RulesRequest struct {
	Own  *Source // rules of one's own, in TOML; nil for none
	Pest string  // only those for it; "" for all
	Name string  // only the one of this name; "" for all
}

// Rules are the published rules and those of one's own before them. That there is none
// for a pest, or of a name, is an error.
func Rules(q RulesRequest) ([]rules.Rule, error) {
	book, err := RuleBook(q.Own)
	if err != nil {
		return nil, err
	}
	shown := book.Rules
	if q.Pest != "" {
		if shown = book.OfPest(q.Pest); len(shown) == 0 {
			return nil, hinted(fmt.Errorf("no rule is known for %q", q.Pest), "geocoris rules lists all there are")
		}
	}
	if q.Name != "" {
		rule, err := book.Named(q.Name)
		if err != nil {
			return nil, err
		}
		shown = []rules.Rule{rule}
	}
	return shown, nil
}
