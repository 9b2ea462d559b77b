//go:build !small

package engine

import "github.com/geocoris/geocoris/internal/output/fieldwork"

// RulesPage is [Rules] by growth stage as a page to print.
func RulesPage(q RulesRequest) ([]File, error) {
	shown, err := Rules(q)
	if err != nil {
		return nil, err
	}
	return render([]rendering{{"rules.html", fieldwork.RulesPage{Rules: shown}.WriteHTML}})
}
