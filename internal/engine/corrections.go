package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// corrections reads the file of the setting corrections.
func (w Setup) corrections() ([]survey.Correction, error) {
	from, ok, err := w.named("corrections", w.Settings.Corrections)
	if err != nil || !ok {
		return nil, err
	}
	all, err := survey.Corrections(from)
	if err != nil {
		return nil, hinted(err, "--corrections wants a table with the columns file, line, column, was, now, why")
	}
	return all, nil
}

// keptCorrecting is that of counts which a season keeps: by their bare names.
var keptCorrecting = survey.Correcting{Some: true, Moved: true}

// correctable holds the corrections against the files as they were given, before a season
// keeps these by their bare names.
func (w Setup) correctable(samples []Source) error {
	all, err := w.corrections()
	if err != nil {
		return err
	}
	_, err = w.correcting.Fit(all, samples)
	return err
}

// correctionNotes say what was corrected, and which corrections are of files that were not
// read.
func correctionNotes(done, all []survey.Correction) (notes []string) {
	const most = 5
	if len(done) > 0 {
		said := make([]string, 0, most)
		for _, c := range done[:min(most, len(done))] {
			said = append(said, c.String())
		}
		note := fmt.Sprintf("%s corrected, as asked: %s", figures.Counted(len(done), "cell"), strings.Join(said, "; "))
		if n := len(done) - most; n > 0 {
			note += fmt.Sprintf("; and %d more", n)
		}
		notes = append(notes, note)
	}
	var others []string
	made := map[survey.Correction]bool{}
	for _, c := range done {
		made[c] = true
	}
	for _, c := range all {
		if !made[c] && !slices.Contains(others, c.File) {
			others = append(others, c.File)
		}
	}
	if len(others) > 0 {
		notes = append(notes, fmt.Sprintf("%s of files that are not read here: %s", figures.Counted(len(all)-len(done), "correction"), strings.Join(others, ", ")))
	}
	return notes
}
