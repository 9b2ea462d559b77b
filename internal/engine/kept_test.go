package engine_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/recall"
)

// pieces keep work in memory.
type pieces struct {
	mu     sync.Mutex
	all    map[string][]byte
	saved  int
	fields int
	of     []engine.Depends
}

func (p *pieces) keep(fields int, of []engine.Depends) (engine.Keep, error) {
	p.fields, p.of = fields, of
	return p, nil
}

func (p *pieces) Load(name string) ([]byte, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	piece, ok := p.all[name]
	return piece, ok
}

func (p *pieces) Save(name string, piece []byte) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.all[name], p.saved = piece, p.saved+1
	return nil
}

// farm is seven invented fields: an even one, a hot spot, a row that cannot be read, stops
// that stand together, one stop alone, one stop in a pond, and one field that nobody walked.
func farm() (boundary, counts string) {
	const degree = 111_320.0
	var fields []string
	counts = "stop,longitude,latitude,count,leaves,date,pest,kind\n"
	at := func(k int, x, y float64) string {
		return fmt.Sprintf("%.7f,%.7f", (float64(k)*500+x)/degree, y/degree)
	}
	place := func(k int, x, y float64) string { return "[" + at(k, x, y) + "]" }
	square := func(k int, from, to float64) string {
		return "[" + strings.Join([]string{place(k, from, from), place(k, to, from), place(k, to, to), place(k, from, to), place(k, from, from)}, ",") + "]"
	}
	for k, count := range []func(i int) string{
		func(int) string { return "600" },
		func(i int) string { return fmt.Sprint(map[bool]int{true: 900 + 40*i}[i%4 < 2]) },
		func(i int) string { return map[bool]string{true: "1O0", false: "20"}[i == 3] },
		func(i int) string { return fmt.Sprint(300 * i) },
		func(i int) string { return map[bool]string{true: "700"}[i == 0] },
		func(i int) string { return fmt.Sprint(41 * i) },
		nil,
	} {
		feature := func(name string, from, to float64) {
			fields = append(fields, fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[%s]}}`, name, square(k, from, to)))
		}
		if feature(fmt.Sprint("F", k), 0, 400); k == 5 {
			feature("Pond 2", 140, 170)
		}
		for i := 0; count != nil && i < 12; i++ {
			if cell := count(i); cell != "" {
				counts += fmt.Sprintf("F%d-%d,%s,%s,10,2031-08-1%d,sorghum aphid,\n", k, i, at(k, 60+float64(i%4)*93, 70+float64(i/4)*130), cell, 4+i%2)
			}
		}
	}
	for i := range 6 {
		counts += fmt.Sprintf("X%d,%s,900,10,2031-08-14,sorghum aphid,\n", i, at(3, 200+float64(i), 203))
	}
	counts += fmt.Sprintf("E1,%s,500,10,2031-08-14,sorghum aphid,extra\nP1,%s,500,10,2031-08-14,sorghum aphid,\n", at(1, 70, 75), at(5, 155, 155))
	return `{"type":"FeatureCollection","features":[` + strings.Join(fields, ",") + `]}`, counts
}

func ofFarm() engine.MapRequest {
	boundary, counts := farm()
	settings := engine.Defaults()
	settings.Field, settings.Out, settings.Write, settings.Cell = "farm.geojson", "out", []string{"zones.geojsons"}, 20
	return engine.MapRequest{
		Setup: engine.Setup{Settings: settings}, Version: "test", Boundary: engine.Source{Name: "farm.geojson", Content: []byte(boundary)},
		Samples: []engine.Source{{Name: "farm.csv", Content: []byte(counts)}},
	}
}

// A map from fields that were all kept, or some, is that of one that was not stopped, to the
// byte, whatever it is asked for; and what was kept is not worked out again.
func TestAMapOfKeptFieldsIsTheSame(t *testing.T) {
	for name, set := range map[string]func(*engine.Settings){
		"as it is":       func(*engine.Settings) {},
		"losses":         func(o *engine.Settings) { o.Surface.Loss, o.Language = true, vocabulary.Spanish },
		"a catch, tuned": func(o *engine.Settings) { o.Catch, o.Tune = 0.8, true },
		"rule, day, cost": func(o *engine.Settings) {
			o.Rule, o.Stage, o.SprayIn, o.Cost, o.Price, o.Loss = "sorghum-aphid-texas-mean", "boot", 3, 30, 200, 0.001
		},
		"some alone": func(o *engine.Settings) { o.Only = []string{"F1", "F4"} },
	} {
		q := ofFarm()
		set(&q.Settings)
		plain, err := engine.Map(t.Context(), q)
		require.NoError(t, err, name)
		kept := &pieces{all: map[string][]byte{}}
		q.Keep = kept.keep
		first, err := engine.Map(t.Context(), q)
		require.NoError(t, err, name)
		assert.Equal(t, plain.Files, first.Files, "%s: while it is kept", name)
		assert.Equal(t, kept.fields, kept.saved, name)
		again, err := engine.Map(t.Context(), q)
		require.NoError(t, err, name)
		assert.Equal(t, plain.Files, again.Files, "%s: all kept", name)
		assertSameFields(t, plain, again)
		assert.Equal(t, kept.fields, kept.saved, "%s: nothing is worked out again", name)
		for piece := range kept.all {
			if strings.HasSuffix(piece, "1") {
				delete(kept.all, piece)
				kept.all[strings.Replace(piece, "F1", "F", 1)] = nil
			} else {
				kept.all[piece] = kept.all[piece][:len(kept.all[piece])-1]
			}
			break
		}
		some, err := engine.Map(t.Context(), q)
		require.NoError(t, err, name)
		assert.Equal(t, plain.Files, some.Files, "%s: all but one kept", name)
		assert.Equal(t, kept.fields+1, kept.saved, "%s: one is worked out again", name)
	}
}

// assertSameFields asks for the same figures and answers to the bit, whether a file holds
// them or not.
func assertSameFields(t *testing.T, want, got *engine.MapOutcome) {
	t.Helper()
	packed := func(v any) string {
		text, err := recall.Pack(v)
		require.NoError(t, err)
		return string(text)
	}
	for i, f := range want.Result.Fields {
		assert.True(t, packed(f) == packed(got.Result.Fields[i]), f.Name)
	}
	assert.True(t, packed(want.Verdicts) == packed(got.Verdicts))
	assert.Equal(t, want.Result.Notes, got.Result.Notes)
}

// Each thing that a map depends on changes what is asked for, and its folder does not.
func TestWhatAKeptMapDependsOn(t *testing.T) {
	of := func(change func(*engine.MapRequest)) []engine.Depends {
		q, kept := ofFarm(), &pieces{all: map[string][]byte{}}
		q.Keep = kept.keep
		change(&q)
		_, err := engine.Map(t.Context(), q)
		require.NoError(t, err)
		return kept.of
	}
	plain := of(func(*engine.MapRequest) {})
	assert.Equal(t, plain, of(func(q *engine.MapRequest) { q.Settings.Out, q.Settings.Write, q.Jobs = "other", nil, 1 }))
	for what, change := range map[string]func(*engine.MapRequest){
		"version of the program":      func(q *engine.MapRequest) { q.Version = "later" },
		"farm.csv":                    func(q *engine.MapRequest) { q.Samples[0].Content = append(q.Samples[0].Content, '\n') },
		"farm.geojson":                func(q *engine.MapRequest) { q.Boundary.Content = append(q.Boundary.Content, '\n') },
		"setting treat-at":            func(q *engine.MapRequest) { q.Settings.TreatAt = 41 },
		"setting verdict.least-stops": func(q *engine.MapRequest) { q.Settings.Verdict.LeastStops = 9 },
		"setting part":                func(q *engine.MapRequest) { q.Part = engine.Part{Number: 1, Of: 2} },
	} {
		is := of(change)
		differs := ""
		for i := range is {
			if i >= len(plain) || is[i] != plain[i] {
				differs = is[i].What
				break
			}
		}
		assert.Equal(t, what, differs)
	}
}

// Pictures are drawn from more than is kept.
func TestAMapWithPicturesIsNotKept(t *testing.T) {
	q, kept := ofFarm(), &pieces{all: map[string][]byte{}}
	q.Settings.Write, q.Keep = []string{"map.svg"}, kept.keep
	_, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	assert.Zero(t, kept.fields)
}
