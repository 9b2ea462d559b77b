package engine

import (
	"encoding/json"
	"maps"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A Memory keeps what one request worked out for those after it that ask for much the
// same, as a page does with every threshold that is tried. Outcomes are the same without.
type Memory = recall.Memory

// remembered is how many results of each kind are kept: what was asked for last, and what
// it is compared with.
const remembered = 2

// NewMemory is one that holds nothing yet.
func NewMemory() *Memory { return recall.New(remembered) }

// outlines are [Outlines] by the settings, whose fields are the caller's own.
func (w Setup) outlines(from Source) (boundary.Outlines, error) {
	key := sourceIn(recall.For("outlines"), from).Text(w.Settings.NameProperty, string(w.Settings.Inner))
	o, err := recall.Of(w.Memory, key, func() (boundary.Outlines, error) { return Outlines(from, w.Settings.NameProperty, w.Settings.Inner) })
	o.Fields = append([]geo.Field(nil), o.Fields...)
	o.Notes, o.Warnings = o.Notes[:len(o.Notes):len(o.Notes)], o.Warnings[:len(o.Warnings):len(o.Warnings)]
	return o, err
}

// surveyed is what samples are read as, by options that the settings and the fields give.
func (w Setup) surveyed(g ground, samples []Source, opts survey.Options) (*survey.Survey, error) {
	key, ok := w.reading(g, samples, opts)
	if !ok {
		return survey.Read(samples, opts)
	}
	known, err := recall.Of(w.Memory, key, func() (*survey.Survey, error) { return survey.Read(samples, opts) })
	if err != nil {
		return known, err
	}
	s := *known
	s.Notes = s.Notes[:len(s.Notes):len(s.Notes)] // who adds to them gets his own
	return &s, nil
}

// reading is all that samples are read by; ok is false where nothing is to be kept.
func (w Setup) reading(g ground, samples []Source, opts survey.Options) (key *recall.Key, ok bool) {
	o := w.Settings
	// Reading goes by none of these: what follows from them for it (the unit, whether shares
	// are asked for) is in opts.
	o.TreatAt, o.WatchAt, o.NextVisit, o.Doubling, o.RuleSettings = 0, 0, 0, 0, RuleSettings{}
	o.Units, o.Language = Settings{}.Units, Settings{}.Language
	text, err := json.Marshal(o)
	if err != nil || w.Memory == nil {
		return nil, false
	}
	key = recall.For("survey").Bytes(text).Text(opts.Unit).Truths(opts.Shares, opts.Parts, opts.KeptUnits, opts.Uncounted, opts.Incoming, opts.Correcting.Some, opts.Correcting.Moved).Count(len(opts.Correcting.Others)).Text(opts.Correcting.Others...)
	for _, n := range w.Settings.NamedFiles() {
		sourceIn(key, w.Named[n.Setting])
	}
	key.Count(len(g.Fields))
	for _, f := range g.Fields {
		assess.FieldIn(key, f)
	}
	for _, from := range samples {
		sourceIn(key, from)
	}
	return key, true
}

// sourceIn adds a file to a key, with the files beside it.
func sourceIn(k *recall.Key, from Source) *recall.Key {
	k.Text(from.Name, from.Unfinished).Bytes(from.Content).Count(len(from.Beside))
	for _, extension := range slices.Sorted(maps.Keys(from.Beside)) {
		k.Text(extension).Bytes(from.Beside[extension])
	}
	return k
}
