package survey_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func readText(t *testing.T, text string, opts survey.Options) *survey.Survey {
	t.Helper()
	s, err := survey.Read(given.Table(text), opts)
	require.NoError(t, err)
	return s
}

// A row whose place is offered another reading that is not applied has that place, but
// does not pass for one that says it.
func TestAnOfferedPlaceIsKept(t *testing.T) {
	swap := func(lon, lat float64) (survey.PositionFix, bool) {
		return survey.PositionFix{Longitude: lat, Latitude: lon, What: "swapped", Fix: "swap"}, lat < 0
	}
	s := readText(t, "stop,longitude,latitude,count,leaves\n1,-101.6,35.9,12,10\n2,35.9,-101.5,50,10\n3,x,-101.5,50,10\n4,35.9,-101.4,x,10\n", survey.Options{FixPosition: swap})
	require.Len(t, s.Unread, 3)
	for i, offered := range []bool{true, false, true} {
		assert.Equal(t, offered, s.Unread[i].Offered, i)
		assert.False(t, s.Unread[i].Placed, i)
	}
	assert.Equal(t, [2]float64{35.9, -101.5}, s.Unread[0].Written)
	assert.Equal(t, -101.5, s.Unread[0].Row.Longitude)
	assert.Equal(t, 35.9, s.Unread[2].Row.Latitude)
	s = readText(t, "stop,longitude,latitude,count,leaves\n1,-101.6,35.9,x,10\n", survey.Options{})
	assert.False(t, s.Unread[0].Offered, "nothing offers")
}

// Every row set aside that somebody may have counted on is kept with what it tells.
func TestRowsThatAreNotReadAreKept(t *testing.T) {
	inf := math.Inf(1)
	const good = "1,-101.6,35.9,12,10,2026-07-15,sorghum aphid,\n2,-101.601,35.9,3,10,2026-07-15,greenbug,\n"
	for _, c := range []struct {
		name, row   string
		placed      bool
		units       float64
		least, most float64
	}{
		{"count", "3,-101.61,35.9,1O0,10,,sorghum aphid,", true, 10, 0, inf},
		{"blank count", "3,-101.61,35.9,,10,,sorghum aphid,", true, 10, 0, inf},
		{"place", "3,,35.9,50,10,,sorghum aphid,", false, 10, 5, 5},
		{"no fix", "3,0,0,50,10,,sorghum aphid,", false, 10, 5, 5},
		{"both", "3,x,35.9,x,10,,sorghum aphid,", false, 10, 0, inf},
		{"units", "3,-101.61,35.9,50,,,sorghum aphid,", true, 0, 0, 50},
		{"units of a class", "3,-101.61,35.9,11-50,0,,sorghum aphid,", true, 0, 0, 50},
		{"no stop", ",-101.61,35.9,50,10,,sorghum aphid,", true, 10, 5, 5},
		{"no pest", "3,-101.61,35.9,50,10,,,", true, 10, 5, 5},
		{"shifted", "3,-101.61,35.9,1,150,10,,sorghum aphid,", true, 0, 0, inf},
		{"shifted, with a remark", "3,-101.61,35.9,1,150,10,2026-07-15,sorghum aphid,wet", true, 0, 0, inf},
		{"shifted, of no pest that is known", "3,-101.61,35.9,1,150,10,2026-07-15,,", true, 0, 0, inf},
		{"cut off", "3,-101.61,35.9", true, 0, 0, inf},
		{"stray quote", `3,-101.61,35.9,50,10,,sorghum aphid,"6" high`, false, 0, 0, inf},
	} {
		s := readText(t, "stop,longitude,latitude,count,leaves,date,pest,notes\n"+good+c.row+"\n", survey.Options{Pest: "sorghum aphid"})
		if !assert.Len(t, s.Unread, 1, c.name) {
			continue
		}
		u := s.Unread[0]
		assert.Equal(t, 4, u.Line, c.name)
		assert.Equal(t, survey.Refused, u.Severity, c.name)
		assert.Equal(t, fmt.Sprint(c.placed, c.units, c.least, c.most), fmt.Sprint(u.Placed, u.Units, u.Least, u.Most), c.name)
		assert.Equal(t, 1, s.Tally.SetAside, c.name)
	}
}

// What was read, or is of another pest, is not among them.
func TestRowsThatAreNoLoss(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,pest,plant,leaf\n1,-101.6,35.9,12,10,sorghum aphid,1,1\n"
	for name, row := range map[string]string{
		"of another pest":  "2,-101.6,35.9,x,10,greenbug,1,1\n",
		"there once more":  "1,-101.6,35.9,12,10,sorghum aphid,1,1\n",
		"doubtful":         "2,-101.6,35.9,12,10,Sorghum  Aphid,1,2\n",
		"without anything": ",,,,,,,\n",
		"a sum of others":  "Total,,,412,120,,,\n",
	} {
		assert.Empty(t, readText(t, head+row, survey.Options{Pest: "sorghum aphid"}).Unread, name)
	}
	const feature = `{"type":"Feature","properties":{%s},"geometry":%s}`
	features := func(properties, geometry string) string {
		return `{"type":"FeatureCollection","features":[` + fmt.Sprintf(feature, `"stop":"1","count":3`, `{"type":"Point","coordinates":[1,2]}`) + "," + fmt.Sprintf(feature, properties, geometry) + "]}"
	}
	const line = `{"type":"LineString","coordinates":[[1,2],[1.1,2]]}`
	assert.Empty(t, readText(t, features(`"stop":"the walk"`, line), survey.Options{}).Unread)
	assert.Len(t, readText(t, features(`"stop":"2","count":5`, line), survey.Options{}).Unread, 1)
	words := readText(t, strings.NewReplacer(`"count":3`, `"comment":"12 aphids on 10 leaves"`).Replace(
		features(`"stop":"2","comment":"30 aphids 10 leaves 5"`, `{"type":"Point","coordinates":[1.5,2]}`)), survey.Options{})
	require.Len(t, words.Unread, 1)
	assert.True(t, math.IsNaN(words.Unread[0].Row.Accuracy), "not given")
	assert.Equal(t, "2 1.5 2 true", fmt.Sprint(words.Unread[0].Row.Stop, " ", words.Unread[0].Row.Longitude, words.Unread[0].Row.Latitude, words.Unread[0].Placed))
}

// A row whose day cannot be read stays with its stop, and is known by it; where the
// stop was walked on two days nobody can say to which it belongs.
func TestARowWithADayThatIsNotReadStaysWithItsStop(t *testing.T) {
	const head = "stop,longitude,latitude,count,date\n1,-101.6,35.9,12,2026-07-15\n1,-101.6,35.9,15,yesterday\n1,-101.6,35.9,20,2026-07-15\n"
	s := readText(t, head, survey.Options{})
	require.Len(t, s.Stops, 1)
	assert.Len(t, s.Stops[0].Records, 3)
	assert.True(t, s.Stops[0].Records[1].Undated)
	assert.Equal(t, "2026-07-15", s.Stops[0].Records[1].Date)
	assert.Len(t, readText(t, head+"1,-101.6,35.9,7,2026-07-22\n", survey.Options{}).Stops, 3)
	assert.False(t, readText(t, head+"2,-101.6,35.9,7,\n", survey.Options{}).Stops[1].Records[0].Undated, "no day is given")
}

// A row with one cell more than the others is cut in two somewhere, even where its last
// cell is blank; where all rows end in a delimiter none is.
func TestARowLongerThanTheOthers(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,notes\n"
	s := readText(t, head+"1,-101.6,35.9,12,10,\n2,-101.61,35.9,1,150,10,\n3,-101.62,35.9,12,10,\n", survey.Options{})
	require.Len(t, s.Unread, 1)
	assert.Contains(t, s.Unread[0].String(), "the row has 7 cells, the header 6")
	all := readText(t, head+"1,-101.6,35.9,12,10,,\n2,-101.61,35.9,12,10,,\n3,-101.62,35.9,12,10,,\n", survey.Options{})
	assert.Empty(t, all.Unread)
}
