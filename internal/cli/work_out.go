package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/season"
	"github.com/geocoris/geocoris/internal/survey"
)

// worker works out one visit after another as map does, with one set of options
// and fields.
type worker struct {
	options mapOptions
	fields  []geo.Field
	streams Streams
}

// read reads samples as map does.
func (w worker) read(samples []string) (*survey.Survey, error) {
	return (&mapRun{options: w.options, samples: samples}).readSamples(w.fields, w.streams.In)
}

// readStored reads counts that are in memory: from a folder that is removed again.
func (w worker) readStored(files []season.File) (counts *survey.Survey, err error) {
	folder, err := os.MkdirTemp("", "geocoris-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	var paths []string
	for i, f := range files {
		sub := filepath.Join(folder, fmt.Sprint(i)) // files of one name stay apart
		if err := os.Mkdir(sub, 0o700); err != nil {
			return nil, err
		}
		path := filepath.Join(sub, filepath.Base(f.Name))
		if err := os.WriteFile(path, f.Content, 0o600); err != nil {
			return nil, err
		}
		paths = append(paths, path)
	}
	return w.read(paths)
}

// out assesses one visit; the run comes back with what belongs to its result. A
// rule is taken into a copy of the options, so each visit goes by its own stage.
func (w worker) out(ctx context.Context, counts *survey.Survey) (*mapRun, *assess.Result, error) {
	m := &mapRun{options: w.options}
	set, notes, err := m.byRule(w.options.assess(), counts)
	if err != nil {
		return nil, nil, err
	}
	r, err := m.assess(ctx, w.fields, counts, set)
	if err != nil {
		return nil, nil, failed(w.streams, counts, err)
	}
	r.Notes = append(notes, r.Notes...)
	m.answers, err = m.verdicts(r)
	return m, r, err
}

// show prints a visit as map would, without files.
func (w worker) show(ctx context.Context, to io.Writer, visit season.Visit) error {
	counts, err := w.readStored(visit.Files)
	if err != nil {
		return err
	}
	m, r, err := w.out(ctx, counts)
	if err != nil {
		return err
	}
	m.options.Out = fmt.Sprintf("visit %d of the season", visit.ID)
	files := make([]outFile, len(visit.Files))
	for i, f := range visit.Files {
		files[i].name = f.Name
	}
	return m.print(to, r, files, nil)
}

// validSettings refuses options that cannot be meant before anything is read.
func validSettings(o mapOptions) error {
	if err := o.assess().Validate(); err != nil {
		return usageError{err}
	}
	return nil
}

var errNoField = errors.New("--field is missing")
