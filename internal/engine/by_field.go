//go:build !small

package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/roster"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// fieldList is what is known of each field; none where no file tells.
type fieldList struct{ roster.List }

// judges reports whether it says of any field how it is judged.
func (l fieldList) judges() bool { return slices.ContainsFunc(l.Entries, roster.Entry.Judged) }

// roster reads the file of the setting fields.
func (w Setup) roster() (fieldList, error) {
	from, ok, err := w.named("fields", w.Settings.Fields)
	if err != nil || !ok {
		return fieldList{}, err
	}
	list, err := roster.Read(from, w.Settings.NameProperty)
	var unknown roster.UnknownColumn
	if errors.As(err, &unknown) {
		return fieldList{}, hinted(err, "call it treat_at or watch_at, in the unit of the counts, or take it out")
	}
	if err != nil {
		return fieldList{}, hinted(err, "--fields wants a table with a row for each field, or boundaries with such properties")
	}
	return fieldList{list}, nil
}

// rosterOn is the list for some fields, called as they are.
func (w Setup) rosterOn(fields []geo.Field) (fieldList, error) {
	list, err := w.roster()
	if err != nil || len(list.Entries) == 0 {
		return list, err
	}
	if list.List, err = list.On(fields); err != nil {
		return fieldList{}, hinted(err, "write field and grower in the file of --fields as the boundary does, or leave the grower out")
	}
	return list, nil
}

// whose gives fields the grower that the list alone tells.
func (w Setup) whose(fields []geo.Field) ([]geo.Field, error) {
	list, err := w.rosterOn(fields)
	if err != nil {
		return nil, err
	}
	for i, f := range fields {
		if e, ok := list.Of(f.Name); ok && f.Customer == "" {
			fields[i].Customer = e.Grower
		}
	}
	return fields, nil
}

// countedByField is what a table is read by where fields have rules of their own: its unit is ""
// where these differ.
func (w Setup) countedByField(list fieldList) (of countedBy, err error) {
	book, err := w.ruleBook()
	if err != nil {
		return of, err
	}
	for i, name := range list.rules(w.Settings.Rule) {
		rule, err := book.Named(name.rule)
		if err != nil {
			return of, hinted(fmt.Errorf("%s%w", name.at, err), "geocoris rules lists them")
		}
		one := byRule(rule)
		if i > 0 && of.unit != one.unit {
			one.unit = ""
		}
		of = countedBy{one.unit, of.shares || one.shares, of.parts || one.parts}
	}
	return of, nil
}

type namedRule struct{ rule, at string }

// rules are those that fields go by, and where they are named.
func (l fieldList) rules(all string) (names []namedRule) {
	if all != "" {
		names = append(names, namedRule{rule: all})
	}
	for _, e := range l.Entries {
		if e.Rule != "" {
			names = append(names, namedRule{e.Rule, e.At + ": "})
		}
	}
	return names
}

// compared says how a list and the fields that there are differ. A slip of counts that come
// in is an error; what was kept is shown as it was.
func (w Setup) compared(list fieldList, fields []geo.Field) (notes []string, err error) {
	var names []string
	for _, f := range fields {
		names = append(names, f.Name)
	}
	if w.Incoming {
		if err := list.Slipped(names); err != nil {
			return nil, err
		}
	}
	return list.Compare(names)
}

// dated gives the stops of each field the day that is known of it, where they tell none.
// It compares the list with the fields that there are, which the notes tell.
func (w Setup) dated(g ground, s *survey.Survey) (*survey.Survey, error) {
	list, err := w.rosterOn(g.Fields)
	if err != nil || len(list.Entries) == 0 {
		return s, err
	}
	notes, err := w.compared(list, g.Fields)
	if err != nil {
		return nil, err
	}
	if w.Settings.Only != nil { // what is said of some fields names no others
		notes = nil
	}
	placed, _, err := assess.Place(g.Fields, s.Stops)
	if err != nil {
		return nil, err
	}
	days := map[string]string{}
	for _, p := range placed {
		e, ok := list.Of(p.Field)
		if !ok || e.Date == "" {
			continue
		}
		for _, stop := range p.Stops {
			if stop.Date != "" && stop.Date != e.Date {
				return nil, fmt.Errorf("%s: field %q was counted on %s, and %s:%d says %s", e.At, e.Field, e.Date, stop.Records[0].File, stop.Records[0].Line, stop.Date)
			}
			days[survey.StopKey(stop)] = e.Date
		}
	}
	out := s.WithDays(func(stop survey.Stop) string { return days[survey.StopKey(stop)] })
	out.Notes = slices.Concat(s.Notes, list.Notes, notes)
	return out, nil
}

// byRoster judges each field as its entry says, and as the settings say where it does not.
func (m *morning) byRoster(set assess.Settings, list fieldList, pest string) (assess.Settings, []string, error) {
	m.own, m.staged = map[string]*morning{}, nil
	set.ByField = func(field string, stops []survey.Stop) (assess.LevelSettings, assess.Statistic, error) {
		own := &morning{Setup: m.Setup}
		own.Settings.Fields = ""
		entry, known := list.Of(field)
		if known {
			own.Settings.over(entry)
		}
		counts := &survey.Survey{Pest: pest, Stops: stops}
		found, notes, err := own.byRule(own.Settings.assess(), counts)
		levels, statistic := found.Levels, found.Statistic
		if err == nil && found.ByField != nil {
			levels, statistic, err = found.ByField(field, stops)
		}
		if err != nil && known {
			err = fmt.Errorf("%s: field %q: %w", entry.At, field, err)
		}
		if err != nil {
			return levels, statistic, err
		}
		m.own[field] = own
		for _, note := range slices.Concat(notes, own.staged) {
			if !strings.HasPrefix(note, "field ") {
				note = fmt.Sprintf("field %q: %s", field, note)
			}
			if !slices.Contains(m.staged, note) {
				m.staged = append(m.staged, note)
			}
		}
		return levels, statistic, nil
	}
	return set, nil, nil
}

// over takes what is known of a field over what all go by.
func (o *Settings) over(e roster.Entry) {
	if e.TreatAt != 0 {
		o.TreatAt = e.TreatAt
	}
	if e.WatchAt != 0 {
		o.WatchAt = e.WatchAt
	}
	if e.Rule != "" {
		// Levels of all fields are in their unit, not in that of this rule.
		o.Rule, o.TreatAt, o.WatchAt, o.Tally, o.Unit = e.Rule, e.TreatAt, e.WatchAt, 0, Defaults().Unit
	}
	if e.Stage != "" {
		o.Stage = e.Stage
	}
}
