package call

import (
	"context"
	"fmt"

	"github.com/geocoris/geocoris/internal/engine"
)

// eyeFacts are what practice tells of an observer.
type eyeFacts struct {
	Observer string   `json:"observer"`
	Pairs    int      `json:"pairs"`
	Found    *float64 `json:"found"`    // of 100 insects, on average; nil where that is not known
	Corrects bool     `json:"corrects"` // counts are corrected by it; else pairs are too few, or too much alike
}

// eyes says what pairs of the drill tell.
func eyes(_ context.Context, r request) (any, []engine.File, error) {
	if err := r.settings(&struct{}{}); err != nil {
		return nil, nil, err
	}
	pairs, err := r.one(Pairs)
	if err != nil {
		return nil, nil, err
	}
	made, err := engine.EyesOf(pairs)
	if err != nil {
		return nil, nil, err
	}
	all := []eyeFacts{}
	for _, c := range made.Found {
		all = append(all, eyeFacts{c.Observer, c.Pairs, known(rounded(100*c.Ratio.Value, 10)), c.Fit != nil})
	}
	return map[string]any{"observers": all}, []engine.File{{Name: made.File.Name, Content: made.File.Content}}, nil
}

// practised puts the calibration of pairs that came along in place of a file of calibrate.
func (r request) practised(w *engine.Setup) error {
	pairs, err := r.atMostOne(Pairs)
	if pairs == nil || err != nil {
		return err
	}
	if w.Settings.Observers != "" {
		return fmt.Errorf("%s: files of %s and of %s came along, want one of them", r.Do, Observers, Pairs)
	}
	made, err := engine.EyesOf(*pairs)
	if err != nil {
		return err
	}
	w.Settings.Observers, w.Named[string(Observers)] = made.File.Name, made.File
	return nil
}
