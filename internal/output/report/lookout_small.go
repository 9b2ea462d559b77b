//go:build small

package report

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// clashesOf is nothing on a phone, with which one person walks.
func clashesOf(*assess.Result, *assess.Field, verdict.Verdict, figures.Units) string { return "" }

// onEdgeOf is nothing on a phone, which has no room for it: the map tells it.
func onEdgeOf(*assess.Result, *assess.Field, verdict.Verdict, figures.Units) string { return "" }
