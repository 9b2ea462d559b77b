package observer

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
)

// A File is what a calibration leaves behind, to correct later counts.
type File struct {
	Format    string  `json:"format"` // observerFormat
	Observers []Entry `json:"observers"`
}

// An Entry is one observer of a file. Without a fit nothing is corrected.
type Entry struct {
	Observer string `json:"observer"`
	Pairs    int    `json:"pairs"`
	Fit      *Fit   `json:"fit"`
}

const observerFormat = "geocoris observers 1"

// FileOf keeps what later counts need of calibrations.
func FileOf(calibrations []Calibration) File {
	f := File{Format: observerFormat, Observers: []Entry{}}
	for _, c := range calibrations {
		f.Observers = append(f.Observers, Entry{c.Observer, c.Pairs, c.Fit})
	}
	return f
}

// Write writes the file as JSON.
func (f File) Write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(f)
}

// ReadFile reads what Write wrote; name stands for it in messages.
func ReadFile(name string, r io.Reader) (File, error) {
	var f File
	if err := json.NewDecoder(io.LimitReader(r, mostBytes)).Decode(&f); err != nil {
		return File{}, fmt.Errorf("%s: %w; want a file that calibrate wrote", name, err)
	}
	if f.Format != observerFormat {
		return File{}, fmt.Errorf("%s: format %q; want %q, as calibrate writes it", name, f.Format, observerFormat)
	}
	seen := map[string]bool{}
	for _, e := range f.Observers {
		if seen[Key(e.Observer)] {
			return File{}, fmt.Errorf("%s: observer %q stands in it twice; keep one", name, e.Observer)
		}
		seen[Key(e.Observer)] = true
		if e.Fit != nil {
			if err := e.Fit.check(); err != nil {
				return File{}, fmt.Errorf("%s: observer %q: %w; run calibrate again", name, e.Observer, err)
			}
		}
	}
	return f, nil
}

func (f Fit) check() error {
	for _, v := range []float64{f.Intercept, f.Slope, f.Sigma, f.MeanX, f.SquaresX, f.LowX, f.HighX, f.Smearing} {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e6 {
			return fmt.Errorf("the fit holds %v", v)
		}
	}
	if f.N < leastPairs || f.Slope <= 0 || f.Sigma < 0 || f.SquaresX <= 0 || f.Smearing <= 0 {
		return fmt.Errorf("the fit of %d pairs with slope %v is none", f.N, f.Slope)
	}
	return nil
}

// Find is the fit of an observer; nil where there is none, which corrects
// nothing.
func (f File) Find(name string) *Fit {
	for _, e := range f.Observers {
		if Key(e.Observer) == Key(name) {
			return e.Fit
		}
	}
	return nil
}
