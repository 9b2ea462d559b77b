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
	f, err := os.Open(o.Observers)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	file, err := observer.ReadFile(filepath.Base(o.Observers), f)
	if err != nil {
		return nil, hintedError{err, "--observers wants the observers.json that calibrate --out writes"}
	}
	corrected, _ := eye.Correct(s, file)
	return corrected, nil
}
