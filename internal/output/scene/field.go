package scene

import (
	"cmp"
	"image/color"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A Subject is what a picture is of: a field that was scouted, in its result.
type Subject struct {
	Result  *assess.Result
	Field   *assess.Field
	Ground  *assess.MetricField // of the field
	Verdict *verdict.Verdict    // for the field; nil says nothing of it
	Most    float64             // value of a stop of full size, where maps share a scale; 0 is the field's highest
	Full    float64             // mm, radius of a stop of full size, where maps share a scale, see [OneScale]; 0 goes by the room that there is
	// Treated is ground that was treated, metres, a treatment each; it may overlap.
	Treated []orb.MultiPolygon
}

// most is the value of a stop of full size.
func (s Subject) most() float64 {
	if s.Most > 0 {
		return s.Most
	}
	return s.Field.Max
}

// Names of the layers of a map, from the bottom up.
const (
	LayerGround   = "ground"
	LayerZones    = "zones"
	LayerSigns    = "signs"
	LayerSurface  = "surface"
	LayerBoundary = "boundary"
	LayerTreated  = "treated"
	LayerStops    = "stops"
	LayerValues   = "values"
	LayerUnread   = "unread"
	LayerMeasures = "measures" // scale bar and north
)

var (
	white = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
	paper = color.NRGBA{0xFA, 0xFA, 0xF7, 0xFF} // ground of a field without zones
)

const edge = 0.25 // mm, lines round zones: black, as yellow on white is hard to see

// StopRadius is that of a stop on paper, in mm: its disc grows with the count, so
// that a count of the highest has the full size; none is a small one.
func StopRadius(value, highest, full float64) float64 {
	const least = 0.28 // of the full size
	if !(value > 0) || !(highest > 0) {
		return least * full
	}
	return full * (least + (1-least)*math.Sqrt(min(1, value/highest)))
}

// stopStyle tells a stop at or above the treat level without colour: it is black,
// the others white.
func stopStyle(value float64, l zones.Levels, scale float64) Style {
	if value >= l.TreatAt {
		return Style{Fill: ink, Stroke: white, Width: 0.3 * scale}
	}
	return Style{Fill: white, Stroke: ink, Width: 0.3 * scale}
}

// Zoned reports that zones are drawn: where the map may be believed, the field is clean,
// or the answer names the red ground. Elsewhere the stops stand alone.
func (s Subject) Zoned() bool {
	return s.Field.Scouted() && (s.believed() || s.namesRed())
}

// namesRed reports that red ground is to be sprayed, be it since no more stops can be
// walked today.
func (s Subject) namesRed() bool {
	return s.Verdict != nil && (s.Verdict.Kind == verdict.SpotSpray || s.Verdict.Instead == verdict.SpotSpray)
}

func (s Subject) believed() bool {
	return s.Field.Trust.Believed() || s.Field.Clean(s.Result.Levels.Levels)
}

// mapLayers are the map of the subject.
func (s Subject) mapLayers(p Plot, scale float64) []Layer {
	field := p.rings(s.Ground.XY)
	layers := []Layer{{Name: LayerGround, Items: []Item{Area{Rings: field, Style: Style{Fill: paper}}}}}
	if s.Zoned() {
		areas, signs := s.zones(p, scale)
		layers = append(layers, Layer{LayerZones, areas}, Layer{LayerSigns, signs})
	}
	layers = append(layers,
		Layer{LayerBoundary, []Item{Area{Rings: field, Style: Style{Stroke: ink, Width: 2 * edge * scale}}}},
	)
	if len(s.Treated) > 0 {
		layers = append(layers, Layer{LayerTreated, s.treated(p, scale)})
	}
	layers = append(layers,
		Layer{LayerStops, s.stops(p, scale)},
		Layer{LayerValues, s.values(p, scale)},
	)
	if unread := s.Unread(); len(unread) > 0 {
		layers = append(layers, Layer{LayerUnread, marks(p, unread, scale)})
	}
	return layers
}

// Unread are the places of stops that may have been counted and were not read.
func (s Subject) Unread() (places []orb.Point) {
	for _, u := range s.Field.Unread {
		if u.Placed && u.Own {
			places = append(places, u.XY)
		}
	}
	return places
}

// notOnMap says of stops that may have been counted, were not read and tell no place that a map
// of some fields lacks them: they cannot be marked. One that may be of several fields counts
// once. It is "" where there is none.
func notOnMap(fields []Subject, u figures.Units) string {
	type row struct {
		file string
		line int
	}
	lacking := map[row]bool{}
	for _, s := range fields {
		for _, u := range s.Field.Unread {
			if u.Own && !u.Placed {
				lacking[row{u.Rows[0].File, u.Rows[0].Line}] = true
			}
		}
	}
	switch n := len(lacking); n {
	case 0:
		return ""
	case 1:
		return u.Text("1 stop that was not read has no place on the map")
	default:
		return u.Say("%d stops that were not read have no place on the map", n)
	}
}

// markSize is that of the sign of a stop that was not read, in mm.
const markSize = 3.2

// marks are signs of stops that were not read: over all others, as nothing else says
// that somebody stood there.
func marks(p Plot, places []orb.Point, scale float64) (items []Item) {
	for _, xy := range places {
		items = append(items, UnreadMark(p.Point(xy), scale)...)
	}
	return items
}

// UnreadMark is the sign of a stop that was not read, a question mark on white.
func UnreadMark(at Point, scale float64) []Item {
	size := markSize * scale
	return []Item{
		Disc{Centre: at, Radius: size / 2, Style: Style{Fill: white, Stroke: ink, Width: 0.3 * scale}},
		Text{At: Point{at.X, at.Y + 0.36*size}, Size: size, Bold: true, Anchor: Middle, Colour: ink, Text: "?"},
	}
}

// UnreadMeaning is what the sign of a stop that was not read means.
const UnreadMeaning = "not read, so the map does not know what was counted there"

// ExtraMark is the sign of an extra stop, a ring round its disc.
func ExtraMark(at Point, disc, scale float64) Disc {
	return Disc{Centre: at, Radius: disc + 0.7*scale, Style: Style{Stroke: ink, Width: 0.25 * scale}}
}

// ExtraMeaning is what the sign of an extra stop means.
const ExtraMeaning = "extra, not in the average"

// zones are drawn mildest first, so that the edges of the worst stay whole.
func (s Subject) zones(p Plot, scale float64) (areas, signs []Item) {
	for i := len(s.Field.Map.Zones) - 1; i >= 0; i-- {
		z := s.Field.Map.Zones[i]
		ground := p.rings(z.Polygons)
		if len(ground) == 0 {
			continue
		}
		areas = append(areas, Area{Rings: ground, Key: z.Class.String(),
			Style: Style{Fill: report.Colour(z.Class), Stroke: ink, Width: edge * scale}})
		signs = append(signs, sign(z.Class, ground, scale)...)
	}
	return areas, signs
}

// full is the size of the stop with the highest count, 0.6 to 2.4 mm: smaller
// where stops stand closer.
func (s Subject) full(p Plot, scale float64) float64 {
	if s.Full > 0 {
		return s.Full * scale
	}
	spacing := math.Sqrt(s.Field.Area/float64(max(len(s.Field.Stops), 1))) * p.Scale
	return max(0.6*scale, min(2.4*scale, spacing/4))
}

// Highest is the value of a stop of full size.
func (s Subject) Highest() float64 { return s.most() }

// FullSize is the radius of the stop with the highest count on a map of [MapOnly].
func FullSize(s Subject, p Plot) float64 { return s.full(p, 1) }

// byValue is the order highest first, so that small discs lie on large ones.
func (s Subject) byValue() []int {
	order := make([]int, len(s.Field.Stops))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.Field.Stops[b].Value, s.Field.Stops[a].Value) })
	return order
}

func (s Subject) stops(p Plot, scale float64) (items []Item) {
	full := s.full(p, scale)
	for _, i := range s.byValue() {
		stop := s.Field.Stops[i]
		if stop.Extra && s.Field.ExtraStops() > 0 {
			items = append(items, ExtraMark(p.Point(stop.XY), StopRadius(stop.Value, s.most(), full), scale))
		}
		items = append(items, Disc{
			Centre: p.Point(stop.XY), Radius: StopRadius(stop.Value, s.most(), full),
			Style: stopStyle(stop.Value, s.Result.Levels.Levels, scale), Key: strconv.Itoa(i),
		})
	}
	return items
}

// values are the counts beside their stops, on white: the highest first, and none
// where there is no room.
func (s Subject) values(p Plot, scale float64) (items []Item) {
	size := 2.3 * scale
	full := s.full(p, scale)
	r, err := newRuler()
	if err != nil { // fonts that are part of the program
		return nil
	}
	var held []nearby.Box
	for _, xy := range s.Unread() {
		held = append(held, around(p.Point(xy), markSize*scale/2))
	}
	for _, stop := range s.Field.Stops {
		held = append(held, around(p.Point(stop.XY), StopRadius(stop.Value, s.most(), full)))
	}
	taken := nearby.OfBoxes(held)
	for _, i := range s.byValue() {
		stop := s.Field.Stops[i]
		l := label{at: p.Point(stop.XY), away: StopRadius(stop.Value, s.most(), full), text: report.Levelled(stop.Value, s.Result.Levels.Levels), size: size}
		l.width = r.width(l.text, size, false)
		box, ok := l.place(taken, p.room)
		if !ok {
			continue
		}
		taken.Add(box)
		items = append(items, l.items(box)...)
	}
	return items
}

func around(c Point, r float64) nearby.Box {
	return nearby.Box{Min: [2]float64{c.X - r, c.Y - r}, Max: [2]float64{c.X + r, c.Y + r}}
}

// label is a count looking for room beside its stop.
type label struct {
	at    Point
	away  float64
	text  string
	size  float64
	width float64
}

// place tries right, left, above and below, within the room that there is.
func (l label) place(taken *nearby.Boxes, room orb.Bound) (nearby.Box, bool) {
	pad := l.size / 6
	w, h := l.width+2*pad, l.size*0.75+2*pad
	d := l.away + pad
	for _, c := range []Point{
		{l.at.X + d + w/2, l.at.Y}, {l.at.X - d - w/2, l.at.Y}, {l.at.X, l.at.Y - d - h/2}, {l.at.X, l.at.Y + d + h/2},
	} {
		box := nearby.Box{Min: [2]float64{c.X - w/2, c.Y - h/2}, Max: [2]float64{c.X + w/2, c.Y + h/2}}
		inside := room == orb.Bound{} || room.Contains(box.Min) && room.Contains(box.Max)
		if inside && !taken.Touch(box) {
			return box, true
		}
	}
	return nearby.Box{}, false
}

func (l label) items(box nearby.Box) []Item {
	ground := []Point{{box.Min[0], box.Min[1]}, {box.Max[0], box.Min[1]}, {box.Max[0], box.Max[1]}, {box.Min[0], box.Max[1]}}
	return []Item{
		Area{Rings: [][]Point{ground}, Style: Style{Fill: white}},
		Text{At: Point{(box.Min[0] + box.Max[0]) / 2, box.Max[1] - l.size/6}, Size: l.size, Anchor: Middle, Colour: ink, Text: l.text},
	}
}

// bound is the ground shown: the field and its stops outside.
func (s Subject) bound() orb.Bound {
	b := geo.Bound(s.Ground.XY)
	for _, stop := range s.Field.Stops {
		b = b.Extend(stop.XY)
	}
	for _, xy := range s.Unread() {
		b = b.Extend(xy)
	}
	return b
}

// MapOnly is the map without words round it, in a box of a width and at the most
// a height in mm, for pages that say the rest themselves; the plot tells where
// places stand on it.
func MapOnly(s Subject, width, height float64) (Scene, Plot) {
	return MapIn(s, width, MapHeight(s, width, height))
}
