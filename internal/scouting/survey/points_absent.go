//go:build small

package survey

import (
	"fmt"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A phone's counts are its own table: each row has its position, and numbers stand in digits
// alone. Points of feature files and the words on them, places by name or time, and numbers
// with a word behind them are not in its build.

func featureTable(_ geofile.Collection, name string, _ int64, _ Limits) (table, error) {
	return table{}, &geofile.Error{File: name, Msg: "counts on points are not in this build", Hint: "save the counts as CSV"}
}

// missing is asked of feature files alone.
func (t table) missing(bool) error { return fmt.Errorf("%s: gives no count", t.File) }

// Places are where stops are.
type Places struct {
	Gap    float64
	Offset string
}

// ReadPlaces is an error in this build.
func ReadPlaces(from geofile.Source) (*Places, error) {
	return nil, fmt.Errorf("%s: places are not in this build", from.Base())
}

type taken map[string]struct{}

func (t *table) place(*Places, taken, knower) error { return nil }

func (knows knower) counts([]string) bool { return false }

func (l *layout) bare(_ column, text string) string { return text }

func wordsBehind(table, *layout) string { return "" }

// Words for none stand in no counts of a phone.

func bareZero(table, *layout) bool { return false }

func (l *layout) isZero(string) bool { return false }

func zerosOf(table, *layout, [][]Problem) string { return "" }

func (c column) wordy() bool { return false }

func (rd *reader) fixOfWord(error, column) string { return "" }
