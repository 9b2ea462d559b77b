package cli

import (
	"os"
	"path/filepath"

	"github.com/geocoris/geocoris/internal/eye"
	"github.com/geocoris/geocoris/internal/observer"
	"github.com/geocoris/geocoris/internal/survey"
)

// byObserver corrects the counts by the file of calibrate; without one nothing
// is corrected.
func (o mapOptions) byObserver(s *survey.Survey) (*survey.Survey, error) {
	if o.Observers == "" {
		return s, nil
	}
	file, err := o.observers()
	if err != nil {
		return nil, err
	}
	corrected, _ := eye.Correct(s, file)
	return corrected, nil
}

// calibrated tells of an observer whether byObserver corrects the counts.
func (o mapOptions) calibrated() (func(name string) bool, error) {
	file, err := o.observers()
	return func(name string) bool { return file.Find(name) != nil }, err
}

// observers reads the file of calibrate; where none is given it holds nobody.
func (o mapOptions) observers() (observer.File, error) {
	if o.Observers == "" {
		return observer.File{}, nil
	}
	f, err := os.Open(o.Observers)
	if err != nil {
		return observer.File{}, err
	}
	defer f.Close()
	file, err := observer.ReadFile(filepath.Base(o.Observers), f)
	if err != nil {
		return observer.File{}, hintedError{err, "--observers wants the observers.json that calibrate --out writes"}
	}
	return file, nil
}
