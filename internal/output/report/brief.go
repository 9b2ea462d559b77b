package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A Tone says what a line is about, for a screen with colours.
type Tone uint8

// The tones.
const (
	Quiet Tone = iota // said as all else
	Spray             // the answer is to spray
	Ask               // the answer is to find out more
	Leave             // the answer is not to spray
)

// A Line is one of a screen.
type Line struct {
	Text string // without the end of the line
	Tone Tone
}

// WriteLines writes lines as plain text.
func WriteLines(w io.Writer, lines []Line) error {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(l.Text + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// UsualWidth is that of a screen of which nothing is known.
const UsualWidth = 80

// narrowest keeps a line from falling apart into words.
const narrowest = 30

// paper is what lines are put on: they are wrapped between words.
type paper struct {
	width int
	words figures.Units // the language of what the paper itself says
	lines []Line
}

func newPaper(width int, words figures.Units) *paper {
	if width <= 0 {
		width = UsualWidth
	}
	return &paper{width: max(width, narrowest), words: words}
}

func (p *paper) blank() { p.lines = append(p.lines, Line{}) }

// put adds a text so many blanks in; what does not fit goes on two farther in.
func (p *paper) put(indent int, tone Tone, text string) {
	if text == "" {
		return
	}
	for i, line := range wrapped(p.glued(text), p.width-indent-2) {
		line = strings.ReplaceAll(line, glue, " ")
		in := indent
		if i > 0 {
			in += 2
		}
		p.lines = append(p.lines, Line{strings.Repeat(" ", in) + line, tone})
	}
}

// glue stands for a space at which no line is broken.
const glue = "\x00"

// unparted are words that do not part from a figure before them: units, and the months of days.
var unparted = []string{"ha", "ac", "m", "ft", "h", "min", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// glued keeps figures on one line with what must not part from them; in Spanish a day with
// its month too, 5 de julio.
func (p *paper) glued(text string) string {
	words := strings.Split(text, " ")
	var b strings.Builder
	for i, word := range words {
		day := p.words.Language() == vocabulary.Spanish && i > 0 && word == "de" && endsInDigit(words[i-1]) && i+1 < len(words) && beginsSmall(words[i+1])
		of := p.words.Language() == vocabulary.Spanish && i > 1 && words[i-1] == "de" && endsInDigit(words[i-2]) && beginsSmall(word)
		unit := i > 0 && endsInDigit(words[i-1]) && slices.Contains(unparted, leadingWord(word))
		switch {
		case i == 0:
		case day, of, unit, strings.HasPrefix(word, "%"):
			b.WriteString(glue)
		default:
			b.WriteByte(' ')
		}
		b.WriteString(word)
	}
	return b.String()
}

func endsInDigit(word string) bool {
	return word != "" && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

func beginsSmall(word string) bool { return word != "" && word[0] >= 'a' && word[0] <= 'z' }

// leadingWord is what a text begins with in letters, digits and underscores.
func leadingWord(text string) string {
	n := strings.IndexFunc(text, func(c rune) bool {
		return !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_')
	})
	if n < 0 {
		return text
	}
	return text[:n]
}

// said adds sentences behind a word that says what they are about; nothing for none.
func (p *paper) said(about string, sentences ...string) {
	if text := sentenced(sentences...); text != "" {
		p.put(2, Quiet, p.words.Text(about)+": "+text)
	}
}

// sentenced puts sentences beside one another; empty ones are left out.
func sentenced(sentences ...string) string {
	return strings.Join(sentencesOf(sentences...), " ")
}

// manyFields is from how many fields on a table comes first, and only those that need
// something done are told at length.
const manyFields = 3

// A Brief is what is read first: of each field the answer, why, how sure, and what to look
// out for. [Screen] has the figures behind it.
type Brief struct {
	Screen
	Width int // columns of the screen; 0 for [UsualWidth]
}

// Lines are those of the screen, none longer than its width but for a longer word.
func (b Brief) Lines() []Line {
	p := newPaper(b.Width, b.Units)
	p.put(0, Quiet, briefTitle(b.Result, b.Units))
	p.put(2, Quiet, assumedPest(b.Result, b.Units))
	fields := b.Result.Fields
	if len(fields) >= manyFields {
		p.blank()
		fields = b.table(p)
		b.leftHot(p)
	}
	for _, f := range fields {
		p.blank()
		b.brief(p, f)
	}
	b.besides(p)
	p.footer(b.Out, b.Files)
	return p.lines
}

// Write writes the lines as plain text.
func (b Brief) Write(w io.Writer) error { return WriteLines(w, b.Lines()) }

// briefTitle names pest, day and levels in one line.
func briefTitle(r *assess.Result, u figures.Units) string {
	text := Title(r, u)
	if r.Several() {
		return ownLevels(text, u)
	}
	return fmt.Sprintf("%s: %s.", text, sprayAt(r, u))
}

// ownLevels is a heading over fields that go by other levels than one another.
func ownLevels(title string, u figures.Units) string {
	return u.Say("%s: each field by its own level.", title)
}

// pestIn names a pest, or says that it has no name.
func pestIn(pest string, u figures.Units) string {
	if pest == "" {
		return u.Text("pest not named")
	}
	return u.Language().Pest(pest)
}

// sprayAt says from where on to spray and to watch.
func sprayAt(r *assess.Result, u figures.Units) string {
	return levelsSaid(r.Levels, r.Statistic, u)
}

func levelsSaid(l assess.Levels, s assess.Statistic, u figures.Units) string {
	return u.Say("spray at %s, watch at %s", levelWith(l.TreatAt, s, u), u.Level(l.WatchAt))
}

// levelWith writes a level with what it is of: 40 a leaf, 20 % of leaves at or above 50.
func levelWith(v float64, s assess.Statistic, u figures.Units) string {
	return withUnit(u.Level(v), s, u)
}

func withUnit(number string, s assess.Statistic, u figures.Units) string {
	if s.Share() {
		return number + " " + s.In(u.Language())
	}
	return number + " " + u.Each(s.Unit)
}

// daysOf are the days of a survey as people say them, with the year.
func daysOf(days []string, u figures.Units) string {
	if len(days) == 0 {
		return ""
	}
	first, last := days[0], days[len(days)-1]
	text := u.DayOfYear(last)
	if first == last {
		return text
	}
	if first[:4] == last[:4] {
		return u.Say("%s to %s", u.Day(first), text)
	}
	return u.Say("%s to %s", u.DayOfYear(first), text)
}

func assumedPest(r *assess.Result, u figures.Units) string {
	if r.Survey.Pest == "" && r.Levels.Preset {
		return u.Text("The samples name no pest, so the levels are those for sorghum aphids.")
	}
	return ""
}

// brief is a field at length.
func (b Brief) brief(p *paper, f *assess.Field) {
	r, u := b.Result.Of(f), b.Units
	v, judged := b.verdictOf(f.Name)
	head := fmt.Sprintf("%s, %s", f.Name, u.Area(f.Area))
	switch {
	case !judged && !f.Scouted():
		p.put(0, Quiet, u.Say("%s: not scouted. Nothing here says it is clear.", head))
		return
	case !judged:
		p.put(0, Quiet, fmt.Sprintf("%s, %s", head, Stops(f, u)))
		return
	}
	p.put(0, Quiet, fmt.Sprintf("%s, %s", head, Used(v, u)))
	if r.Several() || b.Result.Several() && f.Scouted() {
		p.put(2, Quiet, Sentence(sprayAt(r, u))+".")
	}
	plain := PlainOf(r, f, v, u)
	p.put(2, ToneOf(v.Kind), plain.Answer)
	p.said("Why", plain.Why...)
	p.said("How sure", plain.Sure...)
	p.said("Look out", plain.LookOut...)
}

func (s Screen) verdictOf(field string) (verdict.Verdict, bool) { return verdict.On(s.Verdicts, field) }

// ToneOf is the tone of an answer.
func ToneOf(k verdict.Kind) Tone {
	switch k {
	case verdict.SpotSpray, verdict.TreatWhole:
		return Spray
	case verdict.NoSpray, verdict.LookAgain:
		return Leave
	}
	return Ask
}

// besides is what to look out for whatever the field.
func (b Brief) besides(p *paper) {
	var lines []string
	if text := rowsUnused(b.Result, b.Units); text != "" {
		lines = append(lines, text)
	}
	s := b.Result.Survey
	if n := len(s.Corrected); n > 0 {
		lines = append(lines, b.Units.Say("%s read as the corrections say, not as the file has it.", b.Units.Counted(n, "cell")))
	}
	p.asides(append(lines, firstNotes(b.Units, s.Nones, b.Result.Notes, b.Notes, s.Notes[len(s.Nones):])...))
}

// mostNotes are on a short screen.
const mostNotes = 3

// firstNotes are the first of some lots of notes, the weightiest lot first, and how many
// more there are.
func firstNotes(u figures.Units, lots ...[]string) (lines []string) {
	all := slices.Concat(lots...)
	for i, n := range all {
		if i == mostNotes {
			return append(lines, u.Say("%s: see --details.", u.Counted(len(all)-i, "more note")))
		}
		lines = append(lines, u.Say("Note: %s", u.Language().Note(n)))
	}
	return lines
}

// asides adds lines below all fields; nothing for none.
func (p *paper) asides(lines []string) {
	if len(lines) > 0 {
		p.blank()
	}
	for _, line := range lines {
		p.put(0, Quiet, line)
	}
}

// rowsUnused names the rows that were not used; "" where all were.
func rowsUnused(r *assess.Result, u figures.Units) string {
	t := r.Tally()
	if t.SetAside == 0 {
		return ""
	}
	named, copied := map[string]bool{}, map[string]bool{} // a row with several faults is one row
	var at []string
	name := func(row string) {
		if !named[row] {
			named[row], at = true, append(at, row)
		}
	}
	for _, row := range survey.TogetherAlike(r.Survey.Problems) {
		for _, one := range row {
			if one.Severity != survey.Doubtful {
				name(one.Place())
				if one.Copy() {
					copied[one.Place()] = true
				}
			}
		}
	}
	for _, s := range r.Away {
		for i := range s.Records {
			name(awayAt(s, i, r.Survey))
		}
	}
	rows := u.Counted(t.Read, "row")
	switch {
	case len(copied) < t.SetAside:
		return u.Say("%d of %s not used%s. See --details for why.", t.SetAside, rows, firstAt(at, u))
	case 2*len(copied) == t.Read && len(r.Survey.Files) == 1:
		return u.Say("%d of %s not used: the table stands twice, and the second copy was left out.", t.SetAside, rows)
	}
	return u.Say("%d of %s not used, as they stand there twice%s.", t.SetAside, rows, firstAt(at, u))
}

// awayAt is where a row of a stop in no field stands; with the stop where lines hold several,
// as a file of points may be one line.
func awayAt(s survey.Stop, row int, all *survey.Survey) string {
	rec := s.Records[row]
	for _, other := range all.Stops {
		if o := other.Records; len(o) > 0 && other.Name != s.Name && o[0].File == rec.File && o[0].Line == rec.Line {
			return survey.Problem{File: rec.File, Line: rec.Line, Name: s.Name}.Place()
		}
	}
	return survey.Problem{File: rec.File, Line: rec.Line}.Place()
}

// firstAt names the first few places of a file.
func firstAt(at []string, u figures.Units) string {
	more := ""
	if len(at) > mostFirst {
		at, more = at[:mostFirst], u.Say(" and %d more", len(at)-mostFirst)
	}
	if len(at) == 0 {
		return ""
	}
	return ": " + strings.Join(at, ", ") + more
}

// footer names the files, and keeps the cautions in mind.
func (p *paper) footer(out string, files []string) {
	p.blank()
	p.put(0, Quiet, p.words.Say("Files in %s: %s", out, strings.Join(files, ", ")))
	p.put(0, Quiet, p.words.Text("Add --details for all figures."))
	p.blank()
	for _, c := range BriefCautions(p.words) {
		p.put(0, Quiet, c)
	}
}
