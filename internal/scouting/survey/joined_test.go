package survey_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// filled is a survey with one of everything that a survey has, whatever will be added to it.
func filled(t *testing.T, file string) *survey.Survey {
	t.Helper()
	s := &survey.Survey{
		Files: []string{file}, Pest: "aphid", Dates: []string{"2026-07-08"}, OneCell: map[string]survey.OneCell{file: {}},
		Stops: []survey.Stop{{Name: "1", Records: []survey.Record{{File: file, Date: "2026-07-08"}}}},
		Nones: []string{file + ": nil"}, Notes: []string{file + ": nil", file + ": columns"},
	}
	of := reflect.ValueOf(s).Elem()
	for i := range of.NumField() {
		switch f := of.Field(i); {
		case !f.IsZero():
		case f.Kind() == reflect.Slice:
			f.Set(reflect.MakeSlice(f.Type(), 1, 1))
		case f.Kind() == reflect.Struct:
			for k := range f.NumField() {
				f.Field(k).SetInt(int64(k) + 1)
			}
		default:
			t.Fatalf("%s: fill it here", of.Type().Field(i).Name)
		}
	}
	return s
}

// Nothing that two surveys have is lost where they are joined, in whichever it is.
func TestJoinedHoldsAllOfBoth(t *testing.T) {
	same := func(name string) string { return "2-" + name }
	a, b, none := filled(t, "a.csv"), filled(t, "b.csv"), &survey.Survey{}
	assert.Equal(t, a, survey.Joined(a, none, same))
	assert.Equal(t, b, survey.Joined(none, b, same))
	both, once := reflect.ValueOf(*survey.Joined(a, b, same)), reflect.TypeOf(*a)
	for i := range once.NumField() {
		switch f, name := both.Field(i), once.Field(i).Name; {
		case name == "Dates": // of one day
			assert.Equal(t, 1, f.Len())
		case f.Kind() == reflect.Struct:
			for k := range f.NumField() {
				assert.Equal(t, int64(2*(k+1)), f.Field(k).Int(), "%s %d", name, k)
			}
		case f.Kind() != reflect.String:
			assert.Equal(t, 2*reflect.ValueOf(*a).Field(i).Len(), f.Len(), name)
		}
	}
	assert.Equal(t, []string{"a.csv: nil", "b.csv: nil", "a.csv: columns", "b.csv: columns"}, both.FieldByName("Notes").Interface())
}

// Two files of one name stay two.
func TestJoinedFilesOfOneName(t *testing.T) {
	got := survey.Joined(filled(t, "a.csv"), filled(t, "a.csv"), func(name string) string { return "2-" + name })
	assert.Equal(t, []string{"a.csv", "2-a.csv"}, got.Files)
	assert.Equal(t, "a.csv", got.Stops[0].Records[0].File)
	assert.Equal(t, "2-a.csv", got.Stops[1].Records[0].File)
}
