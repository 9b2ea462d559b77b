package engine

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// survey are the options of reading samples.
func (w Setup) survey(fields []geo.Field) (survey.Options, error) {
	o := w.Settings
	unit, shares, err := w.counted()
	if err != nil {
		return survey.Options{}, err
	}
	locator, err := assess.NewLocator(fields)
	if err != nil {
		return survey.Options{}, err
	}
	fixPosition, err := locator.FixPositions(o.Fix)
	if err != nil {
		return survey.Options{}, usage(err)
	}
	opts := survey.Options{
		Pest: o.Pest, Unit: unit, Shares: shares, UnnamedStops: o.UnnamedStops, Columns: o.Columns, UTM: o.UTM, UTCOffset: string(o.UTCOffset), DayOrder: o.DateOrder, Incoming: w.Incoming,
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

// counted is the unit that counts are of and whether shares are asked for: by the rule,
// where one is named, as it is by its unit that a table is read.
func (w Setup) counted() (unit string, shares bool, err error) {
	o := w.Settings
	list, err := w.roster()
	if err != nil {
		return "", false, err
	}
	if len(list.rules("")) > 0 {
		return w.countedByField(list)
	}
	if o.Rule == "" {
		return o.Unit, o.Tally > 0, nil
	}
	book, err := w.ruleBook()
	if err != nil {
		return "", false, err
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return "", false, hinted(err, "geocoris rules lists them")
	}
	if o.Unit != "leaf" && o.Unit != rule.Unit {
		return o.Unit, rule.Statistic == rules.Share, nil // which is refused with its reason
	}
	return rule.Unit, rule.Statistic == rules.Share, nil
}
