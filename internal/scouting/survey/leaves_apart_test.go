//go:build !small

package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Leaves side by side, as on a printed sheet, are explained, and so is where places may come from.
func TestWhatAHeaderLacksIsExplained(t *testing.T) {
	const apart, places = "seem to be of one leaf each: add a column count with their sum, and a column leaves with how many were looked at, such as ", "; or give --places FILE, a table or a receiver's file with the place of each stop"
	for header, c := range map[string]struct {
		says   string
		places bool
	}{
		"stop,longitude,latitude,L1,L2,L3":              {`columns "L1" to "L3" ` + apart + "3", false},
		"stop,longitude,latitude,leaf 1,Leaf 2,leaf 03": {`columns "leaf 1" to "leaf 03" ` + apart + "3", false},
		"stop,longitude,latitude,hoja_1,hoja_2,hoja_3":  {`columns "hoja_1" to "hoja_3" ` + apart + "3", false},
		"stop,L1,L2,L3,L4":                              {`columns "L1" to "L4" ` + apart + "4", true},
		"stop,longitude,latitude,L1,L2":                 {"no column for count", false},
		"stop,longitude,latitude,L1,L2,L4":              {"no column for count", false},
		"stop,longitude,latitude,L1,L2,L2":              {"no column for count", false},
		"stop,count,leaves":                             {"no column for longitude", true},
		"stop,longitude,count,leaves":                   {"no column for latitude", false},
	} {
		_, err := survey.Read(given.Table(header+"\n"+strings.Repeat("1,", strings.Count(header, ","))+"1\n"), survey.Options{})
		if assert.ErrorContains(t, err, c.says, header) {
			assert.Equal(t, c.places, strings.HasSuffix(err.Error(), places), err)
		}
	}
}
