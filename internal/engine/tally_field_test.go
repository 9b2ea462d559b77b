package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// squareField is an invented field of about 49 ha, 700 m wide.
const squareField = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"Square"},"geometry":{"type":"Polygon",
"coordinates":[[[9.996856,-0.003144],[10.003144,-0.003144],[10.003144,0.003144],[9.996856,0.003144],[9.996856,-0.003144]]]}}]}`

// walkedSquare is a walk over a net of 5 by 5 places from the south-west corner of the
// field on, with so many on ten leaves at each.
func walkedSquare(apart float64, count func(col, row int) int) engine.Source {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves\n")
	for i := range 25 {
		col, row := i*7%25%5, i*7%25/5 // any first ones are spread
		fmt.Fprintf(&b, "%d,%.6f,%.6f,%d,10\n", i+1, 9.9974+apart*float64(col), -0.0026+apart*float64(row), count(col, row))
	}
	return engine.Source{Name: "walk.csv", Content: []byte(b.String())}
}

func tallied(t *testing.T, counts engine.Source, field bool, price float64) *engine.TallyCountsOutcome {
	o := engine.TallyDefaults()
	o.Counts, o.Low, o.High, o.K, o.StopPrice = "negative-binomial", 25, 55, 0.5, price
	q := engine.TallyCountsRequest{TallySettings: o, Counts: counts, Apart: 20}
	if field {
		q.Field = &engine.Source{Name: "field.geojson", Content: []byte(squareField)}
	}
	made, err := engine.TallyCounts(t.Context(), q)
	require.NoError(t, err)
	return made
}

const wholeNet = 0.0013 // degrees between places of a net over the field

// Stops of one corner answer nothing, however many, and where the rest lies is known only
// with the field.
func TestTallyOnAFieldWantsItCrossed(t *testing.T) {
	corner := walkedSquare(0.0003, func(col, _ int) int { return 5 * col })
	without := tallied(t, corner, false, 0)
	assert.Equal(t, sampling.Under, without.Answers[len(without.Answers)-1].Verdict)
	with := tallied(t, corner, true, 0)
	require.Len(t, with.Answers, 25)
	last := with.Answers[24]
	assert.Equal(t, sampling.GoOn, last.Verdict)
	assert.False(t, last.Crossed)
	assert.Less(t, last.Spoken, 0.5)
	require.NotNil(t, with.Next)
	assert.Equal(t, furthest(t, corner, 40), *with.Next, "as plan --after has it")

	spread := tallied(t, walkedSquare(wholeNet, func(int, int) int { return 0 }), true, 0)
	end := spread.Answers[len(spread.Answers)-1]
	assert.Equal(t, sampling.Under, end.Verdict)
	assert.True(t, end.Crossed)
	assert.Nil(t, spread.Next, "nobody need go on")
}

// Where leaves are counted as over a tally or not, no next place is named: what a further
// stop tells is worked out of counts.
func TestATallyOfSharesNamesNoNextPlace(t *testing.T) {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves\n")
	for i := range 120 {
		stop := i / 10
		fmt.Fprintf(&b, "%d,%.6f,%.6f,%d,1\n", stop+1, 9.9974+0.0003*float64(stop%4), -0.0026+0.0003*float64(stop/4), 80*(i%10%(stop%4+1)))
	}
	o := engine.TallyDefaults()
	o.Plan = "sorghum-tally-50"
	made, err := engine.TallyCounts(t.Context(), engine.TallyCountsRequest{TallySettings: o, Counts: engine.Source{Name: "walk.csv", Content: []byte(b.String())},
		Field: &engine.Source{Name: "field.geojson", Content: []byte(squareField)}, Apart: 20})
	require.NoError(t, err)
	require.Equal(t, sampling.GoOn, made.Answers[len(made.Answers)-1].Verdict)
	assert.Nil(t, made.Next)
}

// With a price the counting ends where what the map of the stops so far expects to save by
// the next one, A·R/(2n), falls below it, from twelve on.
func TestTallyOnAFieldEndsByTheMap(t *testing.T) {
	counts := walkedSquare(wholeNet, func(col, row int) int {
		if col < 2 && row < 2 {
			return 900
		}
		return 10 * col
	})
	const price = 0.1
	made := tallied(t, counts, true, price)
	regret, area := regrets(t, counts)
	stopped := false
	for i, a := range made.Answers {
		n := i + 1
		if n < assess.LeastStops {
			continue
		}
		w := sampling.Worth{Area: area, Regret: regret[n], Stops: n, Price: price}
		assert.InDelta(t, regret[n], a.Regret, 1e-12)
		assert.Equal(t, w.More(100), a.More)
		assert.Equal(t, w.Enough() && a.Crossed, a.Verdict == sampling.Mappable, "%d stops", n)
		assert.NotContains(t, []sampling.Verdict{sampling.Over, sampling.Under}, a.Verdict, "the map decides")
		stopped = a.Done()
	}
	assert.True(t, stopped)
	assert.GreaterOrEqual(t, len(made.Answers), 12)
	assert.Less(t, len(made.Answers), 25)
	dear := tallied(t, counts, true, 100)
	assert.Contains(t, dear.Answers[len(dear.Answers)-1].Line(), "STOP: enough for a map. Map these.")
	assert.Len(t, tallied(t, counts, true, 1e-6).Answers, 25, "cheap stops are walked to")
}

// Stops of another field are left out and said to be; where none is left that is an error.
func TestTallyOnAFieldTakesItsStopsAlone(t *testing.T) {
	counts := walkedSquare(wholeNet, func(int, int) int { return 0 })
	all := len(tallied(t, counts, true, 0).Answers)
	header, rows, _ := strings.Cut(string(counts.Content), "\n")
	counts.Content = []byte(header + "\nfar,10.1,0.1,9000,10\n" + rows)
	made := tallied(t, counts, true, 0)
	assert.Len(t, made.Answers, all)
	assert.Equal(t, []string{"1 stop not in field Square: left out"}, made.Notes)

	counts.Content = []byte(header + "\nfar,10.1,0.1,9000,10\n")
	o := engine.TallyDefaults()
	o.Counts, o.Low, o.High = "poisson", 25, 55
	_, err := engine.TallyCounts(t.Context(), engine.TallyCountsRequest{TallySettings: o, Counts: counts, Apart: 20,
		Field: &engine.Source{Name: "field.geojson", Content: []byte(squareField)}})
	assert.ErrorContains(t, err, "no stop lies in field Square")
}

// furthest is the one further stop that is planned after all of a walk.
func furthest(t *testing.T, counts engine.Source, level float64) [2]float64 {
	read, err := survey.Read([]engine.Source{counts}, survey.Options{})
	require.NoError(t, err)
	fields, err := engine.Outlines(engine.Source{Name: "field.geojson", Content: []byte(squareField)}, "", "")
	require.NoError(t, err)
	known := plan.Known{Levels: []float64{level}}
	for _, s := range read.Stops {
		known.Stops = append(known.Stops, plan.Counted{Lonlat: [2]float64{s.Longitude, s.Latitude}, Mean: s.Mean(), Units: s.Units})
	}
	p, err := plan.After(fields.Fields[0], plan.Settings{Stops: 1}, known)
	require.NoError(t, err)
	return p.Stops[0].Lonlat
}

// regrets are those of the first n stops, from a map of them.
func regrets(t *testing.T, counts engine.Source) (of map[int]float64, hectares float64) {
	read, err := survey.Read([]engine.Source{counts}, survey.Options{})
	require.NoError(t, err)
	fields, err := engine.Outlines(engine.Source{Name: "field.geojson", Content: []byte(squareField)}, "", "")
	require.NoError(t, err)
	of = map[int]float64{}
	for n := assess.LeastStops; n <= len(read.Stops); n++ {
		part := *read
		part.Stops = read.Stops[:n]
		r, err := assess.Run(t.Context(), []geo.Field{fields.Fields[0]}, &part, assess.Settings{Levels: assess.LevelSettings{TreatAt: 40}})
		require.NoError(t, err)
		s := decision.Weigh(r.Fields[0].Losses(40), decision.Prices{})
		of[n] = (s.Blind-s.Seeing)/s.Area + 0.5/float64(n+1)
		hectares = r.Fields[0].Area / 1e4
	}
	return of, hectares
}
