package scene

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A Paper is the size of a picture and of what is written on it, in millimetres.
type Paper struct {
	Width, Height float64
	Margin        float64
	Text          float64 // size of ordinary text
	Sign          float64 // size of signs and lines, 1 on A4
}

// A4 is the paper of ISO 216.
func A4() Paper { return Paper{Width: 210, Height: 297, Margin: 14, Text: 3.5, Sign: 1} }

// Letter is the paper of ANSI/ASME Y14.1.
func Letter() Paper { return Paper{Width: 215.9, Height: 279.4, Margin: 14, Text: 3.5, Sign: 1} }

// Phone is a picture for a message, nine to sixteen: at 10 pixels to a millimetre
// it is 1080 by 1920.
func Phone() Paper { return Paper{Width: 108, Height: 192, Margin: 4, Text: 3, Sign: 0.9} }

// PhonePixels is how many pixels a millimetre of [Phone] has.
const PhonePixels = 10

// A Sheet is how a picture is to be laid out.
type Sheet struct {
	Paper   Paper
	Units   figures.Units
	Sources string // the last line: files and program
	Viewer  bool   // who looks at it has fonts for letters that those of PDF and PNG lack
}

// Of lays out the picture of a field: title, trust, map with scale and north,
// legend with the figures of the zones, sources.
func (sh Sheet) Of(s Subject) (Scene, error) {
	r, err := newRuler()
	if err != nil {
		return Scene{}, err
	}
	l := &layout{Sheet: sh, subject: s, ruler: r, y: sh.Paper.Margin}
	ground := Area{Rings: [][]Point{{{}, {sh.Paper.Width, 0}, {sh.Paper.Width, sh.Paper.Height}, {0, sh.Paper.Height}}}, Style: Style{Fill: white}}
	l.head()
	top := l.y
	head := l.take()
	height, _ := l.below(0)
	footTop := sh.Paper.Height - sh.Paper.Margin - height
	p := plotInto(s.bound(), Point{sh.Paper.Margin, top}, sh.Paper.Width-2*sh.Paper.Margin, max(footTop-top-sh.Paper.Text, sh.Paper.Text))
	p.room = orb.Bound{Min: orb.Point{0.5, top - sh.Paper.Text/2}, Max: orb.Point{sh.Paper.Width - 0.5, footTop + sh.Paper.Text/2}}
	l.full = s.full(p, sh.Paper.Sign)
	_, foot := l.below(footTop)
	scene := Scene{
		Width: sh.Paper.Width, Height: sh.Paper.Height,
		Title: s.Field.Name + ", " + report.FieldTitle(s.Result, s.Field, sh.Units), Description: Description(s, sh.Units),
		Layers: []Layer{{"paper", []Item{ground}}},
	}
	scene.Layers = append(scene.Layers, s.mapLayers(p, sh.Paper.Sign)...)
	scene.Layers = append(scene.Layers, Layer{LayerMeasures, l.measures(p, footTop)}, Layer{"words", append(head, foot...)})
	return scene, nil
}

// layout writes from the top down.
type layout struct {
	Sheet
	subject Subject
	ruler   ruler
	y       float64 // where the next line begins
	right   float64 // left free at the right, besides the margin
	full    float64 // size of the stop with the highest count
	items   []Item
}

func (l *layout) take() []Item {
	items := l.items
	l.items = nil
	return items
}

// below is what stands below the map, from a height on.
func (l *layout) below(top float64) (height float64, items []Item) {
	l.y = top
	l.foot()
	return l.y - top, l.take()
}

const leading = 1.35 // of the size of text, from line to line

// write wraps a text to the width of the paper, from x on.
func (l *layout) write(text string, size, x float64, bold bool) {
	if !l.Viewer {
		text, _ = Printable(text)
	}
	for _, line := range l.ruler.wrap(text, size, l.Paper.Width-l.Paper.Margin-l.right-x, bold) {
		l.y += size * leading
		l.items = append(l.items, Text{At: Point{x, l.y - size*(leading-1)}, Size: size, Bold: bold, Colour: ink, Text: line})
	}
}

// head leaves room for the north arrow at the right.
func (l *layout) head() {
	s, text, m := l.subject, l.Paper.Text, l.Paper.Margin
	f := s.Field
	l.right = 3 * text
	l.write(f.Name, 1.7*text, m, true)
	if _, all := Printable(f.Name); !all && !l.Viewer {
		l.write(LettersLacking, text, m, false)
	}
	l.write(report.FieldTitle(s.Result, s.Field, l.Units), 1.25*text, m, true)
	l.right = 0
	stops := report.Stops(f, l.Units)
	if s.Verdict != nil {
		stops = report.Used(*s.Verdict, l.Units)
	}
	l.write(fmt.Sprintf("%s, %s; %s", l.Units.Area(f.Area), stops, report.Averaged(s.Result, f, l.Units)), text, m, false)
	l.answer()
	if !s.Zoned() {
		for _, reason := range report.TrustReasonsIn(f.Trust, l.Units) {
			l.write(report.Sentence(reason)+".", 0.9*text, m, false)
		}
	}
	l.y += text
}

// answer is what to do, and how far the map may be believed.
func (l *layout) answer() {
	s, text, m := l.subject, l.Paper.Text, l.Paper.Margin
	v := s.Verdict
	if v == nil {
		l.write(report.TrustLine(s.Result, s.Field, l.Units)+".", text, m, !s.Zoned())
		return
	}
	l.write(report.PlainAnswer(*v, l.Units), 1.1*text, m, true)
	if until := report.PlainGoodUntil(*v, l.Units); until != "" {
		l.write(until, text, m, false)
	}
	trust := report.PlainTrust(*v, s.Field.Trust, s.Result.Survey.Pest, l.Units)
	if trust == "" && !s.Zoned() {
		trust = report.TrustLine(s.Result, s.Field, l.Units) + "."
	}
	if trust != "" {
		l.write(trust, text, m, !s.Zoned())
	}
}

func (l *layout) foot() {
	s, text, m := l.subject, l.Paper.Text, l.Paper.Margin
	l.y += 2.2 * text // scale bar
	if s.Zoned() {
		l.zoneLegend()
	}
	l.stopLegend()
	lv := s.Result.Levels
	l.write(l.Units.Say("Spray at %s: %s. Watch at %s: %s. %s.", figures.Level(lv.TreatAt), lv.TreatSource,
		figures.Level(lv.WatchAt), lv.WatchSource, report.Sentence(l.Units.Text(report.LevelsCaution))), 0.8*text, m, false)
	l.write(report.CautionsIn(l.Units)[0], 0.8*text, m, true)
	if l.Sources != "" {
		l.write(l.Sources, 0.8*text, m, false)
	}
}

// zoneLegend is one line for each zone: swatch, word, what it means, figures; of a zone
// that is not on the map it says so.
func (l *layout) zoneLegend() {
	s, text, m := l.subject, l.Paper.Text, l.Paper.Margin
	wide, high := 3*text, 1.3*text
	for _, z := range s.Field.Map.Zones {
		if z.Area == 0 {
			l.write(l.Units.Say("%s: none", report.LegendOf(z.Class, s.Verdict, l.Units)), text, m+wide+text, false)
			l.y += text / 2
			continue
		}
		box := []Point{{m, l.y}, {m + wide, l.y}, {m + wide, l.y + high}, {m, l.y + high}}
		l.items = append(l.items, Area{Rings: [][]Point{box}, Style: Style{Fill: report.Colour(z.Class), Stroke: ink, Width: edge * l.Paper.Sign}})
		l.items = append(l.items, sign(z.Class, [][]Point{box}, l.Paper.Sign*0.7)...)
		top := l.y
		l.write(report.LegendOf(z.Class, s.Verdict, l.Units)+": "+Meaning(s, z.Class, l.Units), text, m+wide+text, true)
		l.write(Figures(s, z, l.Units), text, m+wide+text, false)
		l.y = max(l.y, top+high) + text/2
	}
}

// Meaning says which ground a zone is.
func Meaning(s Subject, c zones.Class, u figures.Units) string {
	watch := u.Level(s.Result.Levels.WatchAt)
	switch c {
	case zones.Treat:
		if s.byChance() && s.Field.Chance.ByLoss {
			return u.Text("where spraying pays")
		}
		if cut := report.CutText(s.Result, s.Field, u); cut != "" {
			return u.Say("from %s on", cut)
		}
		return u.Say("%s or more", report.LevelWith(s.Result.Levels.TreatAt, s.Result.Statistic, u))
	case zones.Watch:
		if s.byChance() {
			return u.Say("from a chance of %.2g of %s or more on, or nobody has been near", s.Field.Chance.WatchAt, watch)
		}
		return u.Say("%s or more, or nobody has been near", watch)
	}
	if s.byChance() {
		return u.Text("less likely than that, with a stop near")
	}
	return u.Text("less than that, with a stop near")
}

func (s Subject) byChance() bool { return s.Field.Chance != nil && s.Field.Chance.BySurface }

// Figures are those of a zone in one line.
func Figures(s Subject, z zones.Zone, u figures.Units) string {
	stops, levels := s.Field.StopsIn(z.Class), s.Result.Levels.Levels
	counted := u.Counted(stops, "stop")
	if stops > 0 {
		counted = u.Say("%s, highest %s", counted, report.Highest(s.Field, z.Class, levels))
	}
	return u.Say("%s, %s; %s; average %s", u.Area(z.Area), u.Share(s.Field.Map.Share(z.Class)), counted, report.Levelled(z.Mean, levels))
}

// measures are the scale bar and the north arrow.
func (l *layout) measures(p Plot, footTop float64) []Item {
	text, m, line := l.Paper.Text, l.Paper.Margin, 0.3*l.Paper.Sign
	items := scaleBar(p, Point{m, footTop + 1.2*text}, (l.Paper.Width-2*m)/3, text, line, l.Units)
	return append(items, northArrow(Point{l.Paper.Width - m - text, m}, text)...)
}

// stopLegend shows three sizes of stops.
func (l *layout) stopLegend() {
	s, text := l.subject, l.Paper.Text
	full := l.full
	x := l.Paper.Margin
	l.y += 1.6 * text
	for _, v := range LegendValues(s) {
		r := StopRadius(v, s.most(), full)
		l.items = append(l.items, Disc{Centre: Point{x + full, l.y - 0.35*text}, Radius: r, Style: stopStyle(v, s.Result.Levels.Levels, l.Paper.Sign)})
		x += 2*full + 0.4*text
		word := report.Levelled(v, s.Result.Levels.Levels)
		l.items = append(l.items, Text{At: Point{x, l.y}, Size: text, Colour: ink, Text: word})
		x += l.ruler.width(word, text, false) + text
	}
	word := l.Units.Say("stops; black: %s or more", l.Units.Level(s.Result.Levels.TreatAt))
	l.items = append(l.items, Text{At: Point{x, l.y}, Size: text, Colour: ink, Text: word})
	l.y += 0.6 * text
	l.extraLegend()
	if len(s.Unread()) > 0 {
		l.y += 1.2 * text
		l.items = append(l.items, UnreadMark(Point{l.Paper.Margin + full, l.y}, l.Paper.Sign)...)
		l.y -= 0.8 * text
		l.write(l.Units.Text(UnreadMeaning), text, l.Paper.Margin+2*full+0.4*text+markSize*l.Paper.Sign/2, false)
		l.y += 0.4 * text
	}
	if text := notOnMap([]Subject{s}, l.Units); text != "" {
		l.write(text, l.Paper.Text, l.Paper.Margin, true)
	}
}

// extraLegend shows the ring of extra stops, where there are such.
func (l *layout) extraLegend() {
	if l.subject.Field.ExtraStops() == 0 {
		return
	}
	text, sign, r := l.Paper.Text, l.Paper.Sign, l.full/2
	at := Point{l.Paper.Margin + l.full, l.y + 1.2*text}
	l.items = append(l.items, ExtraMark(at, r, sign), Disc{Centre: at, Radius: r, Style: stopStyle(0, l.subject.Result.Levels.Levels, sign)})
	l.y += 0.4 * text
	l.write(l.Units.Text(ExtraMeaning), text, l.Paper.Margin+2*l.full+0.4*text+0.7*sign, false)
	l.y += 0.4 * text
}

// LegendValues are the values that a legend of stops shows: none, the treat level
// where it occurs, the highest.
func LegendValues(s Subject) []float64 {
	values := []float64{0}
	if t := s.Result.Levels.TreatAt; t < s.most() {
		values = append(values, t)
	}
	if s.most() > 0 {
		values = append(values, s.most())
	}
	return values
}

// Description is the picture in words.
func Description(s Subject, u figures.Units) string {
	f := s.Field
	lines := []string{u.Say("Map of %s, %s, %s. %s, %s.", f.Name, u.Area(f.Area), report.FieldTitle(s.Result, f, u),
		report.Stops(f, u), report.Averaged(s.Result, f, u))}
	if s.Zoned() {
		for _, z := range f.Map.Zones {
			if z.Area == 0 {
				lines = append(lines, u.Say("%s: none.", report.LegendOf(z.Class, s.Verdict, u)))
				continue
			}
			lines = append(lines, fmt.Sprintf("%s: %s.", report.LegendOf(z.Class, s.Verdict, u), Figures(s, z, u)))
		}
	}
	if n := len(s.Unread()); n > 0 {
		lines = append(lines, u.Say("%s marked ?, %s.", u.Counted(n, "stop"), u.Text(UnreadMeaning)))
	}
	if text := notOnMap([]Subject{s}, u); text != "" {
		lines = append(lines, text+".")
	}
	return strings.Join(append(lines, report.TrustLine(s.Result, f, u)+"."), " ")
}
