package jobsheet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// distinct is a sheet of which no two figures are alike: nonsense, to see that each
// stands in its own place.
func distinct(t *testing.T) jobsheet.Sheet {
	t.Helper()
	const ha = 10000
	s := drawn(t, handoff.Settings{
		Spray:  spray.Settings{Swath: 24, Sections: 4, Heading: new(float64), Speed: 4, Lag: 2.5, TurnTime: 30},
		Margin: spray.Margin{StopError: 3, SprayerError: 4, Growth: 0.5, Extra: 7}, SprayOn: "2026-07-18",
	}, orb.MultiPolygon{{square(-100, -150, 100, 150)}})
	j := s.Result.Jobs[0]
	j.Area, j.Ground.Treat, j.Ground.Grown = 61*ha, 31*ha, 37*ha
	j.Plan.Cover = spray.Cover{
		Swaths: j.Plan.Cover.Swaths, Sprayed: 30*ha + 1, Treatable: 20*ha + 2, Left: 9*ha + 3, Overlap: 5*ha + 4, Missed: 4*ha + 5, Beyond: 3*ha + 6, OutOfField: 2*ha + 7,
		Untreatable: []spray.Remnant{{Ground: orb.Polygon{square(0, 0, 10, 10)}, Area: 123.4, Point: orb.Point{5, 5}, Why: spray.TooShort}, {Ground: orb.Polygon{square(0, 0, 5, 5)}, Area: 12.3, Point: orb.Point{50, 90}, Why: spray.NoWay}},
	}
	j.Plan.On, j.Plan.Off, j.Plan.Turns, j.Plan.Seconds, j.Plan.Astride = 1234, 567.126, 11, 3661, 45.6
	j.Ground.KeptOff = []spray.KeptOff{{Name: "hives", SetBack: 30, Area: 1.5 * ha, Nearest: 55}, {Name: "creek", SetBack: 20, Area: 0.7 * ha, Nearest: 44}, {Name: "far", SetBack: 1, Area: 0, Nearest: math.Inf(1)}}
	j.Ground.Bars = []spray.Bar{{Kind: spray.OtherField, Name: "B", Count: 1, Area: 2222, Nearest: 3}, {Kind: spray.Hole, Count: 2, Area: 333, Nearest: 12}, {Kind: spray.Gap, Count: 3, Area: 444, Nearest: 8}, {Kind: spray.OtherField, Name: "C", Count: 1, Area: 5, Nearest: math.Inf(1)}}
	s.Mix = typed(t, s).Mix
	return s
}

func TestEachFigureStandsInItsPlace(t *testing.T) {
	text := screen(t, distinct(t))
	for label, value := range map[string]string{
		"Field": "61.0 ha", "Red ground": "31.0 ha. Grown by 14 m: 5 m for GPS error, 1.5 m for 3 days of spread, 7 m as asked", "With margin, in the field": "37.0 ha", "To spray": "30.0 ha",
		"Margin":          "13.5 m: GPS error 5 m (stops 3 m, sprayer 4 m) + growth 0.5 m × 3 d + asked 7 m",
		"Missed, overlap": "4.00 ha, 5.00 ha", "Can be sprayed": "20.0 ha of the spray ground", "Beside the spray ground": "3.00 ha",
		"Nearest keep-off":    "creek, 44 m off; set-back 20 m",
		"Not field, kept off": "field B, 3 m off; 2 places left out of the field (ponds or the like), 12 m off; 3 gaps between parts of the field, 8 m off. No set-back",
		"Steer round":         "for 45.6 m the boom's middle", "To drive": "1.80 km", "Driven on, off": "1.23 km, 0.57 km", "Turns": "11", "Sections": "4 of 6 m",
		"Time": "1 h 02 min at 14.4 km/h", "Switch early by": "10 m (14.4 km/h × 2.5 s)",
		// 30.0001 ha at 15 gal/ac: 74.132 ac × 15 = 1,111.98 gal, in 12 tanks 92.665 each, with 18.533 lb
		"Carrier": "140 L/ha: 4,209 L", "Tank loads": "12 of 92.7 gal", "product A": "3 lb/ac: 222.4 lb in all; 18.53 lb in each load",
	} {
		assert.Contains(t, text, "  "+label+":"+strings.Repeat(" ", 27-len([]rune(label)))+value)
	}
	for _, line := range []string{
		"  Spray 30.0 ha to cover the hatched ground, in 9 passes of 24 m, on Saturday 18 July.",
		"  Keep off: hives by 30 m; creek by 20 m; far by 1 m; field B; 2 places left out of the field (ponds or the like); 3 gaps between parts of the field.",
		"  Spray ground:               29.0 ha", "  To spray in all:            1.50 times what can be sprayed",
		"  9.00 ha stays unsprayed, at 2 places: the crosses on the map.", "  2.00 ha is sprayed past the field's edge. Shut nozzles there",
		"  5.00 ha is sprayed twice.", "  4.00 ha is missed.",
		"  Kept off hives:             1.50 ha cut out, with a set-back of 30 m", "  Kept off creek:             0.70 ha cut out, with a set-back of 20 m",
		"  Left unsprayed:             123 m² at 35.900045, -101.599945: too short for the boom to switch",
		"  Left unsprayed:             12.3 m² at 35.900811, -101.599446: the middle of the boom would lie over a hole of the field, a gap between its parts or another field",
	} {
		assert.Contains(t, text, line)
	}
	s := distinct(t)
	s.Result.Jobs[0].Ground.KeptOff = nil
	assert.Contains(t, screen(t, s), "Nearest keep-off:           field B, 3 m off; no keep-off was named")
	s.Result.Jobs[0].Ground.Bars = []spray.Bar{{Kind: spray.Drawn, Name: "Pond", Count: 1, Nearest: 2}}
	assert.Contains(t, screen(t, s), "Nearest keep-off:           Pond, 2 m off; no set-back was given")
}

func TestEachFigureStandsInItsMember(t *testing.T) {
	s := distinct(t)
	f := figuresOf(t, s)
	job := f.Jobs[0]
	for name, want := range map[string]float64{
		"treat_m2": 310000, "ground_m2": 290005, "treatable_m2": 200002, "sprayed_m2": 300001, "sprayed_per_treatable": 1.5, "missed_m2": 40005, "overlap_m2": 50004,
		"beyond_ground_m2": 30006, "out_of_field_m2": 20007, "left_m2": 90003, "passes": 9, "turns": 11, "on_m": 1234, "off_m": 567.13, "seconds": 3661, "steer_round_m": 45.6,
	} {
		assert.InDelta(t, want, job[name], 1e-3, name)
		if total, ok := f.Totals[name]; ok {
			assert.InDelta(t, want, total, 1e-9, name)
		}
	}
	assert.InDelta(t, 4209.3, f.Typed.Volume, 0.1)
	text := func(v any) string {
		b, err := json.Marshal(v)
		require.NoError(t, err)
		return string(b)
	}
	assert.Equal(t, `[{"area_m2":123.4,"latitude":35.9000451,"longitude":-101.5999446,"reason":"too short for the boom to switch"}]`, text(job["left_places"].([]any)[:1]))
	assert.Equal(t, `[{"cut_out_m2":15000,"name":"hives","set_back_m":30,"spray_ground_stays_off_m":55},{"cut_out_m2":7000,"name":"creek","set_back_m":20,"spray_ground_stays_off_m":44},{"cut_out_m2":0,"name":"far","set_back_m":1,"spray_ground_stays_off_m":null}]`, text(job["keep_offs"]))
	assert.Equal(t, `[{"area_m2":2222,"count":1,"kind":"field","name":"B","spray_ground_stays_off_m":3},{"area_m2":333,"count":2,"kind":"hole","spray_ground_stays_off_m":12},{"area_m2":444,"count":3,"kind":"gap","spray_ground_stays_off_m":8},{"area_m2":5,"count":1,"kind":"field","name":"C","spray_ground_stays_off_m":null}]`, text(job["not_field"]))

	s = drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}, Cell: 10}, orb.MultiPolygon{{square(0, 0, 300, 100)}})
	grid := figuresOf(t, s).Jobs[0]["grid"].(map[string]any)
	assert.InDelta(t, 30, grid["columns"], 1, "300 m from west to east")
	assert.InDelta(t, 10, grid["rows"], 1, "100 m from south to north")
}

// The table of fields tells what each takes of what is sprayed of it, not of its spray
// ground.
func TestEachFieldTakesWhatIsSprayed(t *testing.T) {
	s := distinct(t)
	second := *s.Result.Jobs[0]
	second.Field = "B"
	s.Result.Jobs = append(s.Result.Jobs, &second)
	var b bytes.Buffer
	require.NoError(t, s.WriteHTML(&b))
	cells := strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(b.String(), " ")), " ")
	assert.Contains(t, cells, "B 30.0 ha, Sat 18 Jul 9 4,209 L 12 of 92.7 gal")
}

// A column that nothing was typed in for is left out.
func TestTheTableOfFieldsHasNoEmptyColumns(t *testing.T) {
	for _, c := range []struct {
		change func(*jobsheet.Sheet)
		want   []string
	}{
		{func(s *jobsheet.Sheet) {}, []string{"Field", "To spray, when", "Passes", "Carrier", "Tank loads"}},
		{func(s *jobsheet.Sheet) { s.Mix.Tank = nil }, []string{"Field", "To spray, when", "Passes", "Carrier"}},
		{func(s *jobsheet.Sheet) { s.Mix.Rate = nil }, []string{"Field", "To spray, when", "Passes"}},
	} {
		s := distinct(t)
		second := *s.Result.Jobs[0]
		second.Field = "B"
		s.Result.Jobs = append(s.Result.Jobs, &second)
		c.change(&s)
		var b bytes.Buffer
		require.NoError(t, s.WriteHTML(&b))
		_, table, _ := strings.Cut(b.String(), `<table class="fields">`)
		table, _, _ = strings.Cut(table, "</table>")
		var head []string
		for _, cell := range regexp.MustCompile(`<th scope="col">(.*?)</th>`).FindAllStringSubmatch(table, -1) {
			head = append(head, cell[1])
		}
		assert.Equal(t, c.want, head)
		assert.NotContains(t, table, "<td>–</td>")
		var pdf bytes.Buffer
		require.NoError(t, s.WritePDF(&pdf))
	}
}

// Ground no larger than the error of a place is not told to be sprayed past the edge or
// twice; what stays unsprayed is.
func TestALittleGroundIsNotTold(t *testing.T) {
	for _, c := range []struct {
		area float64
		told bool
	}{{3, false}, {24.9, false}, {25, true}} {
		s := distinct(t)
		cover := &s.Result.Jobs[0].Plan.Cover
		cover.OutOfField, cover.Overlap, cover.Left = c.area, c.area, c.area
		for name, text := range map[string]string{"screen": screen(t, s), "brief": briefly(s)} {
			assert.Equal(t, c.told, strings.Contains(text, "is sprayed past the field's edge"), "%s, %g m²", name, c.area)
			assert.Equal(t, c.told, strings.Contains(text, "is sprayed twice"), "%s, %g m²", name, c.area)
			assert.Contains(t, text, "stays unsprayed", name)
		}
	}
}

// briefly is the short screen of a sheet.
func briefly(s jobsheet.Sheet) string {
	var lines []string
	for _, l := range (jobsheet.Brief{Sheet: s, Width: 4000}).Lines() {
		lines = append(lines, l.Text)
	}
	return strings.Join(lines, "\n")
}

// Print is large enough to be read in a cab, with all that a page may say: the maps give
// way first.
func TestPrintIsLargeEnough(t *testing.T) {
	for name, c := range map[string]struct {
		sheet jobsheet.Sheet
		least float64 // mm
	}{"usual": {sheet(t, func(s *handoff.Settings) {}), 2.4}, "busy": {busy(t), 1.95}, "distinct": {distinct(t), 2.25}} {
		for i, page := range c.sheet.Scenes() {
			least := 9.0
			for _, layer := range page.Layers {
				for _, item := range layer.Items {
					if text, ok := item.(scene.Text); ok {
						least = min(least, text.Size)
					}
				}
			}
			assert.GreaterOrEqual(t, least, c.least, "mm, %s, page %d", name, i)
		}
	}
}

// The map has north up and west at the left, the whole field in its box, and a bar that
// is as long as it says.
func TestTheMapIsTheRightWayUp(t *testing.T) {
	features := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}}, orb.MultiPolygon{{square(-300, -100, 300, 100), square(100, -80, 200, -40)}})
	j := features.Result.Jobs[0]
	j.Ground.Spray = orb.MultiPolygon{{square(-300, 40, -200, 100)}} // in the north-west
	items := features.Scenes()[0].Layers[0].Items
	var areas []scene.Area
	var outline []scene.Lines
	bars := map[string]float64{}
	for i, item := range items {
		switch item := item.(type) {
		case scene.Area:
			areas = append(areas, item)
		case scene.Lines:
			if item.Style.Width == 0.5 {
				outline = append(outline, item)
			}
		case scene.Text:
			if line, ok := items[max(0, i-1)].(scene.Lines); ok && (strings.HasSuffix(item.Text, " m") || strings.HasSuffix(item.Text, " ft")) {
				if _, known := bars[item.Text]; !known { // the second is the larger map's
					bars[item.Text] = line.Lines[0][2].X - line.Lines[0][1].X
				}
			}
		}
	}
	ends := func(points []scene.Point) (x0, y0, x1, y1 float64) {
		x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, p := range points {
			x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
		}
		return
	}
	box := func(a scene.Area) (x0, y0, x1, y1 float64) { return ends(a.Rings[0]) }
	// The frame comes first, then spray ground, closed ground, swaths and the field.
	fx0, fy0, fx1, fy1 := box(areas[0])
	sx0, sy0, sx1, sy1 := box(areas[1])
	cx0, cy0, _, _ := box(areas[2])
	ax0, ay0, ax1, ay1 := ends(outline[0].Lines[0])
	mm := (ax1 - ax0) / 600
	assert.InDelta(t, mm, (ay1-ay0)/200, 1e-3, "one scale")
	assert.InDelta(t, ax0, sx0, 0.05)
	assert.InDelta(t, ay0, sy0, 0.05, "the north is up")
	assert.InDelta(t, 100*mm, sx1-sx0, 0.05)
	assert.InDelta(t, 60*mm, sy1-sy0, 0.05)
	assert.InDelta(t, ax0+400*mm, cx0, 0.05, "the pond in the east")
	assert.InDelta(t, ay0+140*mm, cy0, 0.05, "and in the south")
	for _, v := range []bool{fx0 < ax0, fy0 < ay0, ax1 < fx1, ay1 < fy1} {
		assert.True(t, v, "the field lies in its box")
	}
	require.NotEmpty(t, bars)
	for text, length := range bars {
		var number float64
		var unit string
		_, err := fmt.Sscan(text, &number, &unit)
		require.NoError(t, err)
		assert.InDelta(t, number*map[string]float64{"m": 1, "ft": geo.MetresPerFoot}[unit]*mm, length, 1e-6)
	}
}

// Spray ground that is a small part of its field is drawn again on a scale of its own.
func TestASmallPartIsDrawnLarger(t *testing.T) {
	maps := func(ground orb.MultiPolygon) (bars int) {
		s := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}}, orb.MultiPolygon{{square(-300, -100, 300, 100)}})
		j := s.Result.Jobs[0]
		j.Ground.Spray, j.Plan.Cover.Swaths = ground, nil
		for _, l := range s.Scenes()[0].Layers {
			for i, item := range l.Items {
				text, isText := item.(scene.Text)
				_, afterLines := l.Items[max(0, i-1)].(scene.Lines)
				if isText && afterLines && strings.HasSuffix(text.Text, " m") {
					bars++
				}
			}
		}
		return bars
	}
	whole := maps(orb.MultiPolygon{{square(-300, -100, 300, 100)}})
	require.Positive(t, whole)
	assert.Equal(t, 2*whole, maps(orb.MultiPolygon{{square(-300, 40, -200, 100)}}))
}
