package engine

import (
	"bytes"

	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// Eyes are what practice tells of observers.
type Eyes struct {
	Found []observer.Calibration
	File  Source // what calibrate writes, for [Settings.Observers]
}

// EyesOf reads pairs of estimated and counted leaves, as calibrate does. Where no row can
// be used it is an error.
func EyesOf(pairs Source) (Eyes, error) {
	read, _, err := observer.ReadPairs(pairs.Base(), bytes.NewReader(pairs.Content))
	if err != nil {
		return Eyes{}, err
	}
	e := Eyes{Found: observer.Calibrate(read)}
	var b bytes.Buffer
	if err := observer.FileOf(e.Found).Write(&b); err != nil {
		return Eyes{}, err
	}
	e.File = Source{Name: "observers.json", Content: b.Bytes()}
	return e, nil
}
