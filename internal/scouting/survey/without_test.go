package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestASurveyWithoutSomeStops(t *testing.T) {
	stop := func(name string, days ...string) (s survey.Stop) {
		s.Name = name
		for _, day := range days {
			s.Records = append(s.Records, survey.Record{Date: day})
		}
		return s
	}
	s := &survey.Survey{Dates: []string{"2031-08-01", "2031-08-02"}, Tally: survey.Tally{Read: 4, Used: 3, SetAside: 1},
		Stops: []survey.Stop{stop("a", "2031-08-01"), stop("b", "2031-08-02", "2031-08-02")}}
	got := s.Without(func(s survey.Stop) bool { return s.Name == "a" })
	assert.Equal(t, &survey.Survey{Dates: []string{"2031-08-02"}, Tally: survey.Tally{Read: 3, Used: 2, SetAside: 1}, Stops: s.Stops[1:]}, got)
	assert.Len(t, s.Stops, 2, "what it was given stays as it is")
	assert.Same(t, s, s.Without(func(survey.Stop) bool { return false }))
}
