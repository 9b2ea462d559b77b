package engine_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

func TestWorstFirst(t *testing.T) {
	o := engine.MapOutcome{Result: &assess.Result{}}
	for _, f := range []struct {
		name string
		kind verdict.Kind
		mean float64
	}{
		{"quiet", verdict.NoSpray, 90}, {"unread", verdict.Undecided, math.NaN()}, {"low spot", verdict.SpotSpray, 10}, {"open", verdict.Undecided, 0},
		{"wait", verdict.LookAgain, 30}, {"high spot", verdict.SpotSpray, 20}, {"all", verdict.TreatWhole, 5}, {"quiet too", verdict.NoSpray, 90},
	} {
		o.Result.Fields = append(o.Result.Fields, &assess.Field{Field: geo.Field{Name: f.name}, Mean: f.mean})
		o.Verdicts = append(o.Verdicts, verdict.Verdict{Field: f.name, Kind: f.kind})
	}
	var names []string
	for _, v := range o.WorstFirst() {
		names = append(names, v.Field)
	}
	assert.Equal(t, []string{"all", "high spot", "low spot", "open", "unread", "wait", "quiet", "quiet too"}, names)
	assert.Equal(t, "quiet", o.Verdicts[0].Field, "the outcome stays as it was")
}
