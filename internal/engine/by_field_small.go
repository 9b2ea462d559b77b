//go:build small

package engine

import (
	"errors"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// fieldList is what is known of each field: nothing in this build, which reads no list.
type fieldList struct{}

func (fieldList) judges() bool             { return false }
func (fieldList) rules(string) []namedRule { return nil }

type namedRule struct{}

var errNoList = errors.New("--fields: this program reads no list of fields")

func (w Setup) roster() (fieldList, error) {
	if w.Settings.Fields != "" {
		return fieldList{}, errNoList
	}
	return fieldList{}, nil
}

func (w Setup) rosterOn([]geo.Field) (fieldList, error) { return w.roster() }

func (w Setup) whose(fields []geo.Field) ([]geo.Field, error) {
	_, err := w.roster()
	return fields, err
}

func (Setup) countedByField(fieldList) (countedBy, error) {
	return countedBy{}, errNoList
}

func (w Setup) dated(_ ground, s *survey.Survey) (*survey.Survey, error) {
	_, err := w.roster()
	return s, err
}

func (*morning) byRoster(set assess.Settings, _ fieldList, _ string) (assess.Settings, []string, error) {
	return set, nil, errNoList
}
