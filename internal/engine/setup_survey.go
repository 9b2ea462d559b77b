package engine

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// survey are the options of reading samples.
func (w Setup) survey(fields []geo.Field) (survey.Options, error) {
	o := w.Settings
	locator, err := assess.NewLocator(fields)
	if err != nil {
		return survey.Options{}, err
	}
	fixPosition, err := locator.FixPositions(o.Mend)
	if err != nil {
		return survey.Options{}, usage(err)
	}
	opts := survey.Options{
		Pest: o.Pest, Unit: o.Unit, UnnamedStops: o.UnnamedStops, Columns: o.Columns, UTM: o.UTM, UTCOffset: string(o.UTCOffset),
		Rename: map[string]string{}, FixPosition: fixPosition,
	}
	if from, ok, err := w.named("schema", o.Schema); err != nil {
		return opts, err
	} else if ok {
		schema, err := survey.DecodeSchema(from)
		if err != nil {
			return opts, err
		}
		opts.Rename, opts.Missing = schema.Rename, schema.Missing
	}
	for _, pair := range o.Map {
		from, to, found := strings.Cut(pair, "=")
		if !found || from == "" || to == "" {
			return opts, usage(fmt.Errorf("--map %q: want a column of the file, =, and the name to read it under", pair))
		}
		opts.Rename[from] = to
	}
	if o.UTM != "" {
		if _, err := survey.ParseUTM(o.UTM); err != nil {
			return opts, usage(err)
		}
	}
	return opts, nil
}
