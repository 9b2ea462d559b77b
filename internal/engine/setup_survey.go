package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// survey are the options of reading samples.
func (w Setup) survey(fields []geo.Field) (survey.Options, error) {
	o := w.Settings
	of, err := w.counted()
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
		Pest: o.Pest, Unit: of.unit, Shares: of.shares, Parts: of.parts, KeptUnits: !w.Incoming, UnnamedStops: o.UnnamedStops, Columns: o.Columns, UTM: o.UTM, UTCOffset: string(o.UTCOffset), DayOrder: o.DateOrder, Incoming: w.Incoming,
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

// A countedBy is what a table is read by: the unit that counts are of, "" where fields differ,
// whether shares are asked for, and whether these are judged by parts of the unit or by signs.
type countedBy struct {
	unit          string
	shares, parts bool
}

// byRule is what a table is read by for a rule.
func byRule(r rules.Rule) countedBy {
	signs := slices.ContainsFunc(r.Bands, func(b rules.Band) bool { return b.Sign != "" })
	return countedBy{r.Unit, r.Statistic == rules.Share, r.Part != "" || signs}
}

// counted is what a table is read by: by the rule, where one is named.
func (w Setup) counted() (countedBy, error) {
	o := w.Settings
	list, err := w.roster()
	if err != nil {
		return countedBy{}, err
	}
	if len(list.rules("")) > 0 {
		return w.countedByField(list)
	}
	if o.Rule == "" {
		return countedBy{o.Unit, o.Tally > 0, o.Part != "" || o.Sign != ""}, nil
	}
	book, err := w.ruleBook()
	if err != nil {
		return countedBy{}, err
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return countedBy{}, hinted(err, "geocoris rules lists them")
	}
	if o.Unit != "leaf" && o.Unit != rule.Unit {
		return countedBy{o.Unit, rule.Statistic == rules.Share, false}, nil // which is refused with its reason
	}
	return byRule(rule), nil
}
