package engine

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

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
	o.Fields, o.Notes, o.Warnings = slices.Clone(o.Fields), slices.Clip(o.Notes), slices.Clip(o.Warnings)
	return o, err
}

// surveyed is what samples are read as, by options that the settings and the fields give.
func (w Setup) surveyed(g ground, samples []Source, opts survey.Options) (*survey.Survey, error) {
	key, memory := w.reading(g, samples, opts), w.Memory
	if key == nil {
		memory = nil
	}
	known, err := recall.Of(memory, key, func() (*survey.Survey, error) { return survey.Read(samples, opts) })
	if err != nil {
		return known, err
	}
	s := *known
	s.Notes = slices.Clip(s.Notes)
	return &s, nil
}

// reading is all that samples are read by; nil where it cannot be written down.
func (w Setup) reading(g ground, samples []Source, opts survey.Options) *recall.Key {
	o := w.Settings
	// Of these reading knows the unit and whether shares are asked for alone.
	o.TreatAt, o.WatchAt, o.NextVisit, o.Doubling, o.RuleSettings = 0, 0, 0, 0, RuleSettings{}
	o.Units, o.Language = Settings{}.Units, Settings{}.Language
	text, err := json.Marshal(o)
	if err != nil {
		return nil
	}
	key := recall.For("survey").Bytes(text).Text(fmt.Sprint(opts.Unit, opts.Shares, opts.Uncounted, opts.FirmOrder), fmt.Sprintf("%+q %t %t", opts.Correcting.Others, opts.Correcting.Some, opts.Correcting.Moved))
	for _, setting := range slices.Sorted(maps.Keys(w.Named)) {
		sourceIn(key.Text(setting), w.Named[setting])
	}
	key.Numbers(float64(len(g.Fields)))
	for _, f := range g.Fields {
		assess.FieldIn(key, f)
	}
	for _, from := range samples {
		sourceIn(key, from)
	}
	return key
}

// sourceIn adds a file to a key.
func sourceIn(k *recall.Key, from Source) *recall.Key {
	k.Text(from.Name, from.Unfinished).Bytes(from.Content).Numbers(float64(len(from.Beside)))
	for _, extension := range slices.Sorted(maps.Keys(from.Beside)) {
		k.Text(extension).Bytes(from.Beside[extension])
	}
	return k
}
