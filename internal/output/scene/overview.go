package scene

import (
	"image/color"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// OverviewMost is how many fields a page of an overview holds: their names can still be
// read on a phone.
const OverviewMost = 24

// OverviewPages is how many pages so many fields take.
func OverviewPages(fields int) int { return (fields + OverviewMost - 1) / OverviewMost }

// An Overview is small maps of many fields, the worst first, each with its name and the
// answer in a word.
type Overview struct {
	Sheet
	Title     string   // pest and day
	Unscouted []string // fields that nobody counted in
}

// WorstFirst is the order of an overview, by the answers.
func WorstFirst(subjects []Subject) []Subject {
	out := slices.Clone(subjects)
	slices.SortStableFunc(out, func(a, b Subject) int { return verdict.WorstFirst(a.Verdict, b.Verdict) })
	return out
}

// Pages are the pages of the overview; fields share one scale of stops.
func (o Overview) Pages(subjects []Subject) (pages []Scene, err error) {
	r, err := newRuler()
	if err != nil {
		return nil, err
	}
	subjects = WorstFirst(OneScale(subjects))
	all := OverviewPages(len(subjects))
	for i := range all {
		part := subjects[i*OverviewMost : min(len(subjects), (i+1)*OverviewMost)]
		pages = append(pages, o.page(part, len(subjects), i, all, r))
	}
	return pages, nil
}

func (o Overview) page(part []Subject, fields, number, of int, r ruler) Scene {
	l := &layout{Sheet: o.Sheet, ruler: r, y: o.Paper.Margin, subject: part[0]}
	text, m := o.Paper.Text, o.Paper.Margin
	l.right = 3 * text
	l.write(o.Units.Say("%s, worst first", o.Units.Counted(fields, "field")), 1.7*text, m, true)
	title := o.Title
	if of > 1 {
		title += o.Units.Say("; page %d of %d", number+1, of)
	}
	l.write(title, 1.25*text, m, true)
	l.right = 0
	l.y = max(l.y, m+4*text)
	top := l.y
	head := append(l.take(), northArrow(Point{o.Paper.Width - m - text, m}, text)...)
	height, _ := o.foot(l, part, 0)
	bottom := o.Paper.Height - m - height
	_, foot := o.foot(l, part, bottom)
	paper := Area{Rings: box(0, 0, o.Paper.Width, o.Paper.Height), Style: Style{Fill: white}}
	out := Scene{Width: o.Paper.Width, Height: o.Paper.Height, Title: title, Layers: []Layer{{"paper", []Item{paper}}, {"words", append(head, foot...)}}}
	var said []string
	cols, rows := tiling(len(part), o.Paper.Width-2*m, bottom-top)
	w, h := (o.Paper.Width-2*m)/float64(cols), (bottom-top)/float64(rows)
	lines := 1
	for i, s := range part {
		if i%cols == 0 {
			lines = o.nameLines(part[i:min(len(part), i+cols)], w, r)
		}
		t := tile{lines: lines, Overview: o, subject: s, ruler: r, at: Point{m + w*float64(i%cols), top + h*float64(i/cols)}, width: w, height: h}
		out.Layers = append(out.Layers, t.layers()...)
		said = append(said, s.Field.Name+": "+t.word())
	}
	out.Description = o.Units.Say("Small maps of %s, worst first. %s.", o.Units.Counted(len(part), "field"), strings.Join(said, ". "))
	return out
}

// tiling is how many columns and rows give so many tiles the largest maps; a tile has
// words above its map, so it may be higher than wide.
func tiling(n int, width, height float64) (cols, rows int) {
	const words = 1.35 // height of a tile to its width
	best := 0.0
	for c := 1; c <= n; c++ {
		r := (n + c - 1) / c
		if side := min(width/float64(c), height/float64(r)/words); side > best {
			best, cols, rows = side, c, r
		}
	}
	return cols, rows
}

// foot explains what the small maps show.
func (o Overview) foot(l *layout, part []Subject, top float64) (height float64, items []Item) {
	text, m := o.Paper.Text, o.Paper.Margin
	l.y = top + 0.6*text
	x := m
	for _, c := range zones.Classes() {
		ground := box(x, l.y, x+3*text, l.y+1.3*text)
		l.items = append(l.items, Area{Rings: ground, Style: Style{Fill: report.Colour(c), Stroke: ink, Width: edge * o.Paper.Sign}})
		l.items = append(l.items, sign(c, ground, 0.7*o.Paper.Sign)...)
		x += 3.5 * text
		word := report.ShownZone(c, o.Units)
		l.items = append(l.items, Text{At: Point{x, l.y + text}, Size: text, Colour: ink, Text: word})
		x += l.ruler.width(word, text, false) + 1.5*text
	}
	l.y += 1.6 * text
	lines := []string{o.Units.Say("Dots are stops, larger with the count; black: %s or more.", o.Units.Level(part[0].Result.Levels.TreatAt))}
	if slices.ContainsFunc(part, func(s Subject) bool { return !s.Zoned() }) {
		lines = append(lines, o.Units.Text("White ground: the map is not sure enough there, so only the stops are shown."))
	}
	if slices.ContainsFunc(part, func(s Subject) bool { return len(s.Unread()) > 0 }) {
		lines = append(lines, "?: "+o.Units.Text(UnreadMeaning)+".")
	}
	if text := notOnMap(part, o.Units); text != "" {
		lines = append(lines, text+".")
	}
	if !o.Viewer && slices.ContainsFunc(part, func(s Subject) bool { _, all := Printable(s.Field.Name); return !all }) {
		lines = append(lines, report.Sentence(LettersLacking))
	}
	if n := len(o.Unscouted); n > 0 {
		lines = append(lines, notScouted(n, o.Units))
	}
	for _, line := range lines {
		l.write(line, 0.8*text, m, false)
	}
	l.write(report.CautionsIn(o.Units)[0], 0.8*text, m, true)
	if o.Sources != "" {
		l.write(o.Sources, 0.8*text, m, false)
	}
	return l.y - top, l.take()
}

func box(x0, y0, x1, y1 float64) [][]Point {
	return [][]Point{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}
}

// tile is one small map of an overview.
type tile struct {
	Overview
	subject       Subject
	ruler         ruler
	at            Point // upper left corner
	width, height float64
	lines         int // of names in its row
}

// nameLines is how many lines the names of a row of tiles take.
func (o Overview) nameLines(row []Subject, width float64, r ruler) int {
	lines := 1
	for _, s := range row {
		t := tile{Overview: o, subject: s, ruler: r, width: width}
		lines = max(lines, len(t.name()))
	}
	return lines
}

// size is that of the text of a tile, and gap the room between two.
func (t tile) size() float64 { return min(t.Paper.Text, t.width/11) }
func (t tile) gap() float64  { return 0.04 * t.width }

// notScouted says of fields that nobody counted in that they may hold anything.
func notScouted(fields int, u figures.Units) string {
	if fields == 1 {
		return u.Say("%s not scouted: nothing here says it is clear.", u.Counted(fields, "field"))
	}
	return u.Say("%s not scouted: nothing here says they are clear.", u.Counted(fields, "field"))
}

// word is the answer in a word; none was asked for where there is no verdict.
func (t tile) word() string {
	if t.subject.Verdict == nil {
		return report.VerdictWordIn(verdict.None, t.Units)
	}
	return report.ShortAnswer(t.subject.Verdict.Kind, t.Units)
}

// tone is the colour behind the answer, that of the ground which it is about: in grey
// the worse is the darker too.
func (t tile) tone() color.NRGBA {
	if t.subject.Verdict == nil {
		return white
	}
	switch t.subject.Verdict.Kind {
	case verdict.TreatWhole, verdict.SpotSpray:
		return report.Colour(zones.Treat)
	case verdict.Undecided, verdict.LookAgain:
		return report.Colour(zones.Watch)
	case verdict.NoSpray:
		return report.Colour(zones.Clear)
	}
	return white
}

// layers are the map with its scale bar, and above it name and answer.
func (t tile) layers() []Layer {
	size, gap := t.size(), t.gap()
	x, y, w := t.at.X+gap/2, t.at.Y+gap/2, t.width-gap
	words, y := t.words(x, y, w, size)
	bottom := t.at.Y + t.height - gap/2 - 1.6*size
	mark := min(t.Paper.Sign, max(0.35, w/usualMap*1.4))
	p := plotInto(t.subject.bound(), Point{x + 0.6*mark, y + 0.6*mark}, w-1.2*mark, max(bottom-y-1.2*mark, size))
	var layers []Layer
	for _, l := range t.subject.mapLayers(p, mark) {
		if l.Name != LayerValues { // there is no room for counts
			layers = append(layers, l)
		}
	}
	bar := scaleBar(p, Point{x, bottom + 1.1*size}, w/2, 0.8*size, 0.3*mark, t.Units)
	return append(layers, Layer{LayerMeasures, bar}, Layer{"words", words})
}

// words are the name, and the answer below; the map begins at the same height in all
// tiles of a row.
func (t tile) words(x, y, w, size float64) (items []Item, below float64) {
	for i, line := range t.name() {
		items = append(items, Text{At: Point{x, y + size*leading*float64(i) + size}, Size: size, Bold: true, Colour: ink, Text: line})
	}
	y += float64(t.lines) * size * leading
	word := t.word()
	small := size
	if wide := t.ruler.width(word, size, true); wide > w-0.8*size {
		small = size * (w - 0.8*size) / wide
	}
	wide := t.ruler.width(word, small, true) + 0.8*size
	items = append(items,
		Area{Rings: box(x, y+0.1*size, x+wide, y+1.5*size), Style: Style{Fill: t.tone(), Stroke: ink, Width: edge * t.Paper.Sign}},
		Text{At: Point{x + 0.4*size, y + 0.8*size + 0.36*small}, Size: small, Bold: true, Colour: ink, Text: word})
	return items, y + 1.8*size
}

// name is that of the field, with its days where they are not those of all, in two lines
// at the most, the second cut with … where there is more.
func (t tile) name() []string {
	size, w := t.size(), t.width-t.gap()
	name := t.subject.Field.Name + report.OwnDays(t.subject.Result, t.subject.Field, ", %s", t.Units)
	if !t.Viewer {
		name, _ = Printable(name)
	}
	lines := t.ruler.wrap(name, size, w, true)
	if len(lines) <= 2 {
		return lines
	}
	cut := []rune(lines[1])
	for len(cut) > 0 && t.ruler.width(string(cut)+"…", size, true) > w {
		cut = cut[:len(cut)-1]
	}
	return []string{lines[0], string(cut) + "…"}
}
