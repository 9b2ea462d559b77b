package scene

import (
	"image/color"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

var (
	grey = color.NRGBA{0x76, 0x76, 0x76, 0xFF}
	blue = color.NRGBA{0x00, 0x72, 0xB2, 0xFF} // of Okabe & Ito 2008
)

const (
	chartWidth  = 90 // mm
	chartHeight = 55
	chartText   = 2.8
)

// A Class is one bar of a histogram: values above From up to To; none at all where
// both are 0.
type Class struct {
	From, To float64
	Count    int
}

// LabelIn is the class in words of a language.
func (c Class) LabelIn(u figures.Units) string {
	if c.To == 0 {
		return "0"
	}
	return u.Say("to %s", u.Short(c.To))
}

// Classes sorts values, none of them negative, into classes that end at 1, 2, 5,
// 10 …; at the most twelve, the lowest widened where there would be more.
func Classes(values []float64) (classes []Class) {
	largest := slices.Max(append([]float64{0}, values...))
	classes = []Class{{}}
	if largest > 0 {
		var ends []float64
		for e := endAbove(largest); len(ends) < 11; e = endBelow(e) {
			ends = append(ends, e)
			if e < slices.Min(append([]float64{largest}, positive(values)...)) {
				break
			}
		}
		slices.Reverse(ends)
		from := 0.0
		for _, e := range ends {
			classes = append(classes, Class{From: from, To: e})
			from = e
		}
	}
	for _, v := range values {
		for i := range classes {
			if v <= classes[i].To {
				classes[i].Count++
				break
			}
		}
	}
	return trimmed(classes)
}

func positive(values []float64) (out []float64) {
	for _, v := range values {
		if v > 0 {
			out = append(out, v)
		}
	}
	return out
}

// trimmed drops empty classes between none and the lowest filled one.
func trimmed(classes []Class) []Class {
	first := 1
	for first < len(classes)-1 && classes[first].Count == 0 {
		first++
	}
	if first > 1 {
		classes[first].From = 0
	}
	return append(classes[:1:1], classes[first:]...)
}

// ladder has three rungs to a decade, counted from 1.
func ladder(rung int) float64 {
	decade := math.Floor(float64(rung) / 3)
	return [...]float64{1, 2, 5}[rung-3*int(decade)] * math.Pow(10, decade)
}

func endAbove(v float64) float64 {
	rung := 3 * int(math.Floor(math.Log10(v)))
	for ladder(rung) < v {
		rung++
	}
	return ladder(rung)
}

func endBelow(end float64) float64 {
	rung := int(math.Round(3 * math.Log10(end)))
	for ladder(rung) >= end*(1-1e-9) {
		rung--
	}
	return ladder(rung)
}

// Histogram draws how many stops have which values; each bar says up to which.
func Histogram(classes []Class, axis string) Scene {
	const left, right, top, bottom = 4.0, 4.0, 6.0, 11.0
	most := 1
	for _, c := range classes {
		most = max(most, c.Count)
	}
	step := (chartWidth - left - right) / float64(len(classes))
	base, high := chartHeight-bottom, chartHeight-top-bottom
	var items []Item
	for i, c := range classes {
		x := left + float64(step*float64(i))
		h := high * float64(c.Count) / float64(most)
		if c.Count > 0 {
			bar := []Point{{x + step*0.08, base - h}, {x + step*0.92, base - h}, {x + step*0.92, base}, {x + step*0.08, base}}
			items = append(items, Area{Rings: [][]Point{bar}, Style: Style{Fill: blue}},
				centred(x+step/2, base-h-1, strconv.Itoa(c.Count)))
		}
		items = append(items, centred(x+step/2, base+3.5, figures.Short(c.To)))
	}
	items = append(items,
		Lines{Lines: [][]Point{{{left, base}, {chartWidth - right, base}}}, Style: Style{Stroke: ink, Width: 0.3}},
		centred(chartWidth/2, chartHeight-2, axis))
	return Scene{Width: chartWidth, Height: chartHeight, Layers: []Layer{{"chart", items}}}
}

func centred(x, y float64, text string) Text {
	return Text{At: Point{x, y}, Size: chartText, Anchor: Middle, Colour: ink, Text: text}
}

// A Pair is a stop's value and what the others predicted for it.
type Pair struct{ Found, Predicted float64 }

// LeftOut draws what was found against what the others predicted, both on a scale
// of square roots, with the levels and the line where they are equal.
func LeftOut(pairs []Pair, l zones.Levels, u figures.Units) Scene {
	const left, top, side = 14.0, 3.0, 48.0
	const width, height = left + side + 4, top + side + 9
	most := l.TreatAt
	for _, p := range pairs {
		most = max(most, p.Found, p.Predicted)
	}
	at := func(p Pair) Point {
		return Point{left + side*math.Sqrt(max(0, p.Predicted)/most), top + side*(1-math.Sqrt(max(0, p.Found)/most))}
	}
	frame := Area{Rings: [][]Point{{{left, top}, {left + side, top}, {left + side, top + side}, {left, top + side}}}, Style: Style{Stroke: ink, Width: 0.3}}
	items := []Item{frame, Lines{Lines: [][]Point{{at(Pair{}), at(Pair{most, most})}}, Style: Style{Stroke: grey, Width: 0.3}}}
	last := -side
	for _, v := range []float64{0, l.WatchAt, l.TreatAt, most} {
		x, y := at(Pair{Predicted: v}), at(Pair{Found: v})
		if x.X-last < 6 && v > 0 {
			continue
		}
		last = x.X
		items = append(items,
			Lines{Lines: [][]Point{{{x.X, top}, {x.X, top + side}}, {{left, y.Y}, {left + side, y.Y}}}, Style: Style{Stroke: grey, Width: 0.15}},
			centred(x.X, top+side+3.5, figures.Short(v)),
			Text{At: Point{left - 1, y.Y + 1}, Size: chartText, Anchor: End, Colour: ink, Text: figures.Short(v)})
	}
	for _, p := range pairs {
		items = append(items, Disc{Centre: at(p), Radius: 0.9, Style: Style{Fill: blue, Stroke: white, Width: 0.15}})
	}
	return Scene{Width: width, Height: height, Layers: []Layer{{"chart", append(items,
		centred(left+side/2, height-1.5, u.Text("predicted by the other stops")),
		Text{At: Point{0.5, top + 3}, Size: chartText, Colour: ink, Text: u.Text("found")})}}}
}

// A Moment is what was found on one visit, on the days counted from any day.
type Moment struct {
	Day           float64
	Label         string
	Mean, Highest float64
}

// Growth draws the mean and the highest of each visit over the days, on a scale of
// square roots, with the treat level. Where visits stand close, days without room
// for their label have none, but for the last.
func Growth(moments []Moment, treatAt float64) Scene {
	const left, right, top, bottom, inset = 10.0, 3.0, 5.0, 9.0, 9.0
	const w, h = chartWidth - left - right, chartHeight - top - bottom
	most, first, last := treatAt, math.Inf(1), math.Inf(-1)
	for _, m := range moments {
		most, first, last = max(most, m.Highest), min(first, m.Day), max(last, m.Day)
	}
	span := last - first
	if !(span > 0) {
		span = 1
	}
	at := func(day, v float64) Point {
		return Point{left + inset + float64((w-2*inset)*(day-first)/span), top + float64(h*(1-math.Sqrt(max(0, v)/most)))}
	}
	level := at(0, treatAt).Y
	items := []Item{
		Lines{Lines: [][]Point{{{left, top}, {left, top + h}, {left + w, top + h}}}, Style: Style{Stroke: ink, Width: 0.3}},
		Lines{Lines: [][]Point{{{left, level}, {left + w, level}}}, Style: Style{Stroke: grey, Width: 0.3}},
		Text{At: Point{left - 1, level + 1}, Size: chartText, Anchor: End, Colour: ink, Text: figures.Short(treatAt)},
		Text{At: Point{left - 1, top + h + 1}, Size: chartText, Anchor: End, Colour: ink, Text: "0"},
	}
	const above = 1.8 // of a figure over its disc
	var means, peaks []Point
	var under, discs, texts []Item
	labels := make([]Text, len(moments))
	for i, m := range moments {
		mean, peak := at(m.Day, m.Mean), at(m.Day, m.Highest)
		means, peaks = append(means, mean), append(peaks, peak)
		labels[i] = centred(mean.X, top+h+4, m.Label)
		average := centred(mean.X, mean.Y-above, levelled(m.Mean, treatAt))
		if crowded := mean.Y-peak.Y < 2*above+chartText; crowded && mean.Y+above+chartText < top+h {
			average.At.Y = mean.Y + above + 0.75*chartText
		} else if crowded { // no room below
			average.At, average.Anchor = Point{mean.X + above, mean.Y + 0.2}, Start
		}
		values := []Text{average, centred(peak.X, peak.Y-above, levelled(m.Highest, treatAt))}
		for _, v := range values {
			under, texts = append(under, behind(v)), append(texts, v)
		}
		discs = append(discs, Disc{Centre: mean, Radius: 1, Style: Style{Fill: ink}}, Disc{Centre: peak, Radius: 1, Style: Style{Fill: white, Stroke: ink, Width: 0.3}})
	}
	items = slices.Concat(items, under, discs, texts)
	for _, label := range apart(labels) {
		items = append(items, label)
	}
	lines := Lines{Lines: [][]Point{means, peaks}, Style: Style{Stroke: ink, Width: 0.25}}
	return Scene{Width: chartWidth, Height: chartHeight, Layers: []Layer{{"chart", append([]Item{lines}, items...)}}}
}

// behind is white ground for a figure, so that no line strikes it through.
func behind(t Text) Area {
	half := 0.3 * t.Size * float64(utf8.RuneCountInString(t.Text))
	middle := t.At.X
	if t.Anchor == Start {
		middle += half
	}
	return Area{Rings: box(middle-half, t.At.Y-0.8*t.Size, middle+half, t.At.Y+0.1*t.Size), Style: Style{Fill: white}}
}

// apart leaves out centred texts, given from left to right, that would run into
// the one before or into the last.
func apart(labels []Text) (kept []Text) {
	if len(labels) == 0 {
		return nil
	}
	const letter = 0.65 // of the size: a figure with its share of the gap
	half := func(t Text) float64 { return letter * t.Size * float64(utf8.RuneCountInString(t.Text)) / 2 }
	last := labels[len(labels)-1]
	edge := math.Inf(-1)
	for _, label := range labels[:len(labels)-1] {
		if from, to := label.At.X-half(label), label.At.X+half(label); from >= edge && to <= last.At.X-half(last) {
			kept, edge = append(kept, label), to
		}
	}
	return append(kept, last)
}

// levelled writes a count beside the one level of a chart.
func levelled(v, treatAt float64) string {
	return report.Levelled(v, zones.Levels{TreatAt: treatAt, WatchAt: math.NaN()})
}
