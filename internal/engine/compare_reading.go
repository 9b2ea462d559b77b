//go:build !small

package engine

import (
	"maps"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A reading is the settings that tell how the rows of one visit are read. They belong to
// its files, which other hands may have written than those of the next visit; levels and
// the surface are one for all visits.

// readAs takes them from the visit's own settings, where the call does not ask for others.
func (q CompareRequest) readAs(o, own Settings) Settings {
	last := q.Adopted
	take(q, "date-order", o.DateOrder == last.DateOrder, &o.DateOrder, own.DateOrder)
	take(q, "fix", slices.Equal(o.Fix, last.Fix), &o.Fix, own.Fix)
	take(q, "map", slices.Equal(o.Map, last.Map), &o.Map, own.Map)
	take(q, "columns", slices.Equal(o.Columns, last.Columns), &o.Columns, own.Columns)
	take(q, "utm", o.UTM == last.UTM, &o.UTM, own.UTM)
	take(q, "utc-offset", o.UTCOffset == last.UTCOffset, &o.UTCOffset, own.UTCOffset)
	take(q, "schema", o.Schema == last.Schema, &o.Schema, own.Schema)
	return o
}

// withoutReading are settings but for those that tell how rows are read, and how many visits they
// are of.
func withoutReading(o Settings) Settings {
	o.DateOrder, o.Fix, o.Map, o.Columns, o.UTM, o.UTCOffset, o.Schema, o.OneVisit = "", nil, nil, nil, "", "", "", false
	return o
}

// take sets a setting to the visit's own, unless it was asked for.
func take[T any](q CompareRequest, setting string, asLast bool, value *T, own T) {
	if asLast && (q.Asked == nil || !q.Asked(setting)) {
		*value = own
	}
}

// readFolder is readAs by the settings that a folder of map was made with, its schema among them.
func (q CompareRequest) readFolder(w Setup, f *MapFolder) (Setup, error) {
	const schema = "schema"
	text, err := f.settings()
	if err != nil {
		return w, err
	}
	own, err := storedSettings(text)
	if err != nil {
		return w, err
	}
	w.Settings = q.readAs(w.Settings, own)
	if own.Schema == "" || w.Settings.Schema != own.Schema || q.Asked != nil && q.Asked(schema) {
		return w, nil
	}
	run, err := f.record(giveFolder)
	if err != nil {
		return w, err
	}
	from, err := f.Load(own.Schema)
	if err != nil {
		return w, err
	}
	_, _, more := run.read()
	w.Named = maps.Clone(w.Named)
	if w.Named == nil {
		w.Named = map[string]Source{}
	}
	w.Named[schema] = from
	return w, sameInput(more, from, schema)
}

// readVisit is readAs by the settings that a visit of a season was added with, its
// calibration of observers among them.
func (q CompareRequest) readVisit(w Setup, visit season.Visit) (Setup, error) {
	const observers = "observers"
	own, err := Kept(visit)
	if err != nil {
		return w, err
	}
	w.Settings = q.readAs(w.Settings, own.Settings)
	if w.Kept[observers] || w.Settings.Observers == "" { // not asked for
		w.Settings.Observers, w.Named = own.Settings.Observers, maps.Clone(w.Named)
		if w.Named == nil {
			w.Named = map[string]Source{}
		}
		w.Named[observers] = own.Named[observers]
	}
	return w, nil
}
