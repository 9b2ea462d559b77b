package engine

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/observer"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// settingsLimit bounds a file of settings, and one that a setting names.
const settingsLimit = 1 << 20

// A Setup is settings with the files that they name: with the fields and the counts,
// all that a result depends on.
type Setup struct {
	Settings  Settings
	Named     map[string]Source // by the setting: observers, schema, rules
	uncounted bool              // a table needs no counts where it tells plants with a sign
	Kept      map[string]bool   // those of Named that a season keeps: its digest stands for them
	// Memory keeps what is worked out for the next request; nil keeps nothing.
	Memory *Memory
	// Incoming refuses of counts that come in, not of those that were kept, what may be half a
	// table or another one, and an order of day and month that the dates of a file deny.
	Incoming bool
	// correcting is how corrections find their files; the zero value is that of map.
	correcting survey.Correcting
}

// A NamedFile is a setting that names a file whose bytes a result depends on.
type NamedFile struct {
	Setting string
	Path    *string // "" for none
}

// NamedFiles are the settings that name files, in the order in which records list
// the files.
func (o *Settings) NamedFiles() []NamedFile {
	return []NamedFile{{"schema", &o.Schema}, {"rules", &o.Rules}, {"observers", &o.Observers}, {"fields", &o.Fields}, {"corrections", &o.Corrections}, {"places", &o.Places}}
}

// Validate refuses settings that cannot be meant before anything is read.
func (o Settings) Validate() error {
	if err := o.assess().Validate(); err != nil {
		return usage(err)
	}
	return nil
}

// named is the file of a setting; ok is false where the setting names none.
func (w Setup) named(setting, path string) (from Source, ok bool, err error) {
	if path == "" {
		return Source{}, false, nil
	}
	from, ok = w.Named[setting]
	switch {
	case !ok:
		return from, false, fmt.Errorf("--%s %s: the file did not come along", setting, path)
	case len(from.Content) > limitOf(setting):
		return from, false, fmt.Errorf("--%s %s: more than %d KiB: is this the right file?", setting, filepath.Base(path), limitOf(setting)>>10)
	}
	return from, true, nil
}

// limitOf bounds the file of a setting, in bytes: boundaries may tell of the fields.
func limitOf(setting string) int {
	if setting == "fields" || setting == "places" {
		return 64 << 20
	}
	return settingsLimit
}

// inputs are the files that settings name, as a record lists them.
func (w Setup) inputs() (all []Source) {
	for _, n := range w.Settings.NamedFiles() {
		if from, ok := w.Named[n.Setting]; ok && *n.Path != "" && !w.Kept[n.Setting] {
			all = append(all, from)
		}
	}
	return all
}

// ruleBook are the published rules, and those of the user's own file before them.
func (w Setup) ruleBook() (*rules.Book, error) {
	from, ok, err := w.named("rules", w.Settings.Rules)
	switch {
	case err != nil:
		return nil, err
	case !ok:
		return RuleBook(nil)
	}
	return RuleBook(&from)
}

// RuleBook are the published rules, and those of one's own before them; nil for none.
func RuleBook(own *Source) (*rules.Book, error) {
	if own == nil {
		return rules.Published()
	}
	return rules.With(own.Base(), own.Content)
}

// read reads samples as map does, corrected by the calibrations of their observers.
// An outline that the samples show to be a field becomes one of the ground.
func (w Setup) read(g *ground, samples []Source) (*survey.Survey, error) {
	entered, err := w.entered(*g, samples)
	if err != nil {
		return nil, err
	}
	if err = w.claim(g, entered); err != nil {
		return nil, err
	}
	if entered, err = w.dated(*g, entered); err != nil {
		return nil, err
	}
	return w.byObserver(entered)
}

// inAnotherUnit reads samples that are of another unit than their rule: where fields without a
// rule may be those that they are of, and where a rule for another pest, or a unit that the
// rule has not, is what is wrong, which is said once they are read.
func (w Setup) inAnotherUnit(g ground, samples []Source, opts survey.Options) (s *survey.Survey, ok bool) {
	o := w.Settings
	if o.Rule == "" {
		if opts.Unit == o.Unit {
			return nil, false
		}
		opts.Unit = ""
		s, err := w.surveyed(g, samples, opts)
		return s, err == nil
	}
	book, err := w.ruleBook()
	if err != nil {
		return nil, false
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return nil, false
	}
	opts.KeptUnits = true
	s, err = w.surveyed(g, samples, opts)
	return s, err == nil && (s.Pest != "" && !rules.SamePest(rule.Pest, s.Pest) || opts.Unit != rule.Unit)
}

// entered reads samples as they were entered.
func (w Setup) entered(g ground, samples []Source) (*survey.Survey, error) {
	opts, err := w.survey(g.Fields)
	if err != nil {
		return nil, err
	}
	opts.Uncounted, opts.Correcting = w.uncounted, w.correcting
	if opts.Corrections, err = w.corrections(); err != nil {
		return nil, err
	}
	if opts.Places, err = w.places(); err != nil {
		return nil, err
	}
	s, err := w.surveyed(g, samples, opts)
	if other := new(survey.OtherUnit); errors.As(err, &other) {
		if read, ok := w.inAnotherUnit(g, samples, opts); ok {
			s, err = read, nil
		}
	}
	var unfit *survey.CorrectionError
	if errors.As(err, &unfit) {
		return nil, hinted(err, "the file was changed since: write what stands there now, or take the correction out")
	}
	if err == nil {
		s.Notes = append(correctionNotes(s.Corrected, opts.Corrections), s.Notes...)
	}
	return s, err
}

// byObserver corrects the counts by the file of calibrate; without one nothing
// is corrected.
func (w Setup) byObserver(s *survey.Survey) (*survey.Survey, error) {
	if w.Settings.Observers == "" {
		return s, nil
	}
	file, err := w.observers()
	if err != nil {
		return nil, err
	}
	corrected, _ := observer.Correct(s, file)
	return corrected, nil
}

// calibrated tells of an observer whether byObserver corrects the counts.
func (w Setup) calibrated() (func(name string) bool, error) {
	file, err := w.observers()
	return func(name string) bool { return file.Find(name) != nil }, err
}

// observers reads the file of calibrate; where none is given it holds nobody.
func (w Setup) observers() (observer.File, error) {
	from, ok, err := w.named("observers", w.Settings.Observers)
	if err != nil || !ok {
		return observer.File{}, err
	}
	file, err := observer.ReadFile(from.Base(), bytes.NewReader(from.Content))
	if err != nil {
		return observer.File{}, hinted(err, "--observers wants the observers.json that calibrate --out writes")
	}
	return file, nil
}
