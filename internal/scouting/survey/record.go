package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// A Record is one usable row: a leaf, a plant or a whole stop.
type Record struct {
	File      string
	Line      int
	Stop      string // "" where stops are known by their position
	Longitude float64
	Latitude  float64
	Total     float64 // counted on all units of the row; NaN where it was not counted, see [Options]
	Low, High float64 // what Total may be, where it was entered as a class; else Total
	Units     float64 // leaves, or what else was counted on; above 0
	Infested  float64 // units with any; NaN where not given
	Seen      *Seen   // what else was written down of its plants; nil for nothing
	Looked    Looked
	Field     string // that the row names, whatever field it lies in; "" where not given
	Plant     string
	Leaf      string
	Date      string // ISO 8601; "" where not given
	Time      string // of the day, as hh:mm; "" where not given
	Clock     string // the cell that Time was read from
	Sum       bool   // a sum or mean of other rows; refused
	Undated   bool   // a day is given, but not in a way that could be read
	Observer  string
	Pest      string
	Stage     string
	Accuracy  float64 // metres; NaN where not given
	Extra     bool    // an extra stop, where more was to be learnt: the field's mean is of the others
	Planned   bool    // marked as a planned stop: it stands for its place
	Notes     string
}

// Looked is how many plants were looked at, where a column tells it that the row is not
// read by, since its counts were not asked for per plant; and whether anything tells.
type Looked struct {
	Of                string // what the row's units are: leaf, plant, 10 sweeps; "" where no column says it
	Plants            string // as it was entered
	HasPlants, Leaves bool   // there is such a column; there is one of leaves besides
	Assumed           bool   // nothing tells on how many was counted, and the row was taken as one
}

const (
	mostUnits   = 10_000    // of a row
	mostPerUnit = 100_000   // beyond it a count is doubted
	mostTotal   = 1_000_000 // per unit: beyond it a count is refused
	poorFix     = 15        // metres; facts of phones under trees or before the first good fix
)

// reader turns rows, one after the other, into records, and gathers what is wrong
// with each.
type reader struct {
	*layout
	table    table
	row      row
	problems []Problem
}

// read reads a row into rec, and returns what is wrong with it.
func (rd *reader) read(r row, rec *Record) []Problem {
	rd.row, rd.problems = r, nil
	rec.File, rec.Line = rd.table.File, r.Line
	rec.Field = rd.fieldOf(r)
	rec.Stop, rec.Plant, rec.Leaf = rd.text(colStop), rd.text(colPlant), rd.text(colLeaf)
	rec.Observer, rec.Pest, rec.Stage, rec.Notes = rd.text(colObserver), rd.text(colPest), rd.text(colStage), rd.text(colNotes)
	if at := rd.at[colNotes]; len(r.Cells) > len(rd.table.Header) && rd.remarkCut(r.Cells) {
		rec.Notes = strings.TrimSpace(strings.Join(trimmed(r.Cells[at:]), ","))
	}
	rec.Extra, rec.Planned, _ = kindOfStop(rd.text(colKind))
	if rec.Sum = rd.sums[r.Line] || rd.sumsUp(); rec.Sum {
		rd.refuse(colStop, sumOfOthers, "leave the row out, or name the stop otherwise")
		return rd.problems
	}
	rd.fits()
	rd.refuseMade()
	rd.refuseTogether()
	if isDitto(rec.Stop) {
		rec.Stop = ""
		rd.refuse(colStop, "is a ditto mark, and the row above tells no name", "name the stop")
	} else if !rd.unnamed && rec.Stop == "" {
		rd.refuse(colStop, "the stop has no name", "name the stop")
	}
	rec.Longitude, rec.Latitude = rd.position()
	rec.Units = rd.units()
	rec.Looked = rd.looked()
	rec.Total = rd.total(rec.Units)
	rec.Low, rec.High = rec.Total, rec.Total
	if class, ok := classOf(rd.text(colCount)); ok {
		rec.Low, rec.High = class.low, class.high
	} else if bounds, ok := rd.mappedBounds(rec.Total, rec.Units); ok {
		rec.Low, rec.High = bounds.low, bounds.high
	}
	rec.Infested = rd.infested(rec.Units, rec.Total)
	rec.Seen = rd.seen(rec)
	rec.Accuracy = rd.accuracy()
	rec.Date, rec.Time, rec.Clock = rd.when(rec.Longitude)
	rec.Undated = rec.Date == "" && (rd.text(colDate) != "" || rec.Time == "" && rd.text(colTime) != "")
	return rd.problems
}

func (rd *reader) text(c column) string { return rd.layout.text(rd.row, c) }

func (rd *reader) has(c column) bool { return rd.at[c] >= 0 }

// problem names a place in a table.
func (l *layout) problem(t table, r row, c column) Problem {
	p := Problem{File: t.File, Line: r.Line, Column: c.String()}
	if t.Points != "" && c != colStop {
		p.Name = l.text(r, colStop)
	}
	if i := l.at[c]; i >= 0 {
		p.Position, p.Column = t.asWritten(i+1), strings.TrimSpace(t.Header[i])
		if i < len(r.Cells) {
			p.Value = strings.TrimSpace(r.Cells[i])
		}
		if t.parted.holds(i) {
			p.Column, p.Value = t.parted.header, strings.TrimSpace(t.parted.cells[r.Line])
		}
	}
	return p
}

// refuse sets the row aside. What is wrong with both angles in one cell is said once.
func (rd *reader) refuse(c column, what, fix string) {
	p := rd.problem(rd.table, rd.row, c).refuse(what, fix)
	if n := len(rd.problems); n == 0 || rd.problems[n-1] != p {
		rd.problems = append(rd.problems, p)
	}
}

func (rd *reader) doubt(c column, what, fix string) {
	rd.problems = append(rd.problems, rd.problem(rd.table, rd.row, c).doubt(what, fix))
}

// number reads a cell that must hold a number; ok is false, and the row refused,
// where it does not.
func (rd *reader) number(c column) (v float64, ok bool) {
	if i := rd.at[c]; i >= len(rd.row.Cells) {
		rd.refuse(c, fmt.Sprintf("the row ends before this column, after %d of %d cells", rd.table.asWritten(len(rd.row.Cells)), rd.table.asWritten(len(rd.table.Header))), "fill the row up")
		return 0, false
	}
	v, sure, err := rd.value(c)
	if err != nil {
		if over, is := overOf(rd.text(c), c); is && !rd.table.native(rd.row.Line, rd.at[c]) {
			rd.refuse(c, over.Error(), over.fix())
			return 0, false
		}
		rd.refuse(c, err.Error(), cmp.Or(rd.fixOfWord(err, c), fixOf(err, c)))
		return 0, false
	}
	if !sure {
		rd.doubt(c, fmt.Sprintf("is read as thousands, %.0f, and may be a fraction", v), "write it in digits alone")
	}
	return v, true
}

// value reads the number in a cell; sure is as [decimals.parseWhole] says.
func (rd *reader) value(c column) (v float64, sure bool, err error) {
	if err := rd.oddity(c); err != nil {
		return 0, true, err
	}
	text := rd.text(c)
	switch {
	case c.wordy() && rd.isZero(text):
		return 0, true, nil
	case rd.table.native(rd.row.Line, rd.at[c]) && text != "":
		if v, err := strconv.ParseFloat(text, 64); err == nil && !math.IsInf(v, 0) && !math.IsNaN(v) {
			return v, true, nil
		}
		v, err = rd.parse(text)
		return v, true, err
	case c.whole():
		return rd.parseWhole(rd.bare(c, text))
	case c.few():
		v, err = rd.parseFew(rd.bare(c, text))
		return v, true, err
	}
	v, err = rd.parse(rd.bare(c, text))
	return v, true, err
}

// parseCell is value for what is compared with others.
func (rd *reader) parseCell(c column) (float64, error) {
	v, _, err := rd.value(c)
	return v, err
}

// fits compares the row with the header. With filled cells to spare, or more cells
// than the other rows, something was cut in two and all behind it stands under the
// wrong header; with too few, a cell may be missing in the middle.
func (rd *reader) fits() {
	cells := rd.row.Cells
	if len(cells) >= rd.width && len(cells) <= len(rd.table.Header) {
		return
	}
	whole := Problem{File: rd.table.File, Line: rd.row.Line}
	has, header := rd.table.asWritten(len(cells)), rd.table.asWritten(len(rd.table.Header))
	what := fmt.Sprintf("the row has %d cells, the header %d", has, header)
	switch {
	case len(cells) > len(rd.table.Header) && rd.remarkCut(cells):
		rd.problems = append(rd.problems, whole.doubt(fmt.Sprintf("the row has %d cells, the header %d: those at its end are read as one remark", has, header), "put quotes round text or numbers that hold the delimiter"))
	case len(cells) > max(len(rd.table.Header), rd.usual):
		rd.problems = append(rd.problems, whole.refuse(what, "put quotes round text or numbers that hold the delimiter, or take the last delimiter out"))
	case len(cells) > len(rd.table.Header) && !empty(cells[len(rd.table.Header):]):
		rd.problems = append(rd.problems, whole.refuse(what, "put quotes round text or numbers that hold the delimiter"))
	case len(cells) < rd.width && len(cells) > rd.last():
		rd.problems = append(rd.problems, whole.doubt(what, "check that each cell stands under its header, and fill the row up"))
	}
}

// remarkCut reports whether the cells to spare are of a remark that was cut in two: the last
// column is of remarks, what stands under it are words, and a row as wide as the header has
// numbers, words and blanks before it where this one has them, so that nothing there is shifted.
func (rd *reader) remarkCut(cells []string) bool {
	const looked = 1000 // rows
	at := rd.at[colNotes]
	if at < 0 || at != rd.width-1 || !rd.table.Delimited || rd.width != len(rd.table.Header) ||
		strings.ContainsFunc(cells[at], unicode.IsDigit) || !strings.ContainsFunc(cells[at], unicode.IsLetter) {
		return false
	}
	return slices.ContainsFunc(rd.table.Rows[:min(len(rd.table.Rows), looked)], func(r row) bool {
		return len(r.Cells) == rd.width && slices.EqualFunc(r.Cells[:at], cells[:at], func(a, b string) bool {
			return isPlain(strings.TrimSpace(a)) == isPlain(strings.TrimSpace(b)) && (strings.TrimSpace(a) == "") == (strings.TrimSpace(b) == "")
		})
	})
}

// last is the position of the last column that the row cannot do without.
func (rd *reader) last() (last int) {
	for _, c := range []column{colLongitude, colLatitude, colCount, colMean, colLeaves} {
		last = max(last, rd.at[c])
	}
	return last
}

// trimmed is a row without the blank cells at its end.
func trimmed(cells []string) []string {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// units is the effort behind the row: 1 where no column tells. Units found empty
// may be distinguished, as one number, and are added.
func (rd *reader) units() float64 {
	empty := rd.empty()
	if empty > 0 && rd.text(colLeaves) == "" && rd.text(colCount) == "" {
		return empty / rd.effort.size()
	}
	n := rd.leaves()
	if rd.has(colLeaves) {
		n /= rd.effort.size()
	}
	return n + empty/rd.effort.size()
}

func (rd *reader) looked() Looked {
	assumed := rd.oneEach() && rd.at[colMean] < 0
	if rd.plants < 0 {
		return Looked{Assumed: assumed, Of: rd.counted}
	}
	l := Looked{Of: rd.counted, HasPlants: true, Leaves: rd.leavesKnown(), Assumed: assumed}
	if rd.plants < len(rd.row.Cells) {
		l.Plants = strings.TrimSpace(rd.row.Cells[rd.plants])
	}
	return l
}

// empty is how many units more were looked at and held nothing.
func (rd *reader) empty() float64 {
	if rd.text(colEmpty) == "" {
		return 0
	}
	v, ok := rd.number(colEmpty)
	if ok && (v < 0 || v > mostUnits || v != math.Trunc(v)) {
		rd.refuse(colEmpty, fmt.Sprintf("is no whole number from 0 to %d", mostUnits), "write how many held nothing")
		return 0
	}
	return v
}

func (rd *reader) leaves() float64 {
	if !rd.has(colLeaves) {
		return 1
	}
	if rd.text(colLeaves) == "" && rd.has(colLeaf) && rd.text(colLeaf) != "" {
		return 1 // the row is one leaf
	}
	v, ok := rd.number(colLeaves)
	switch {
	case !ok:
	case v <= 0:
		rd.refuse(colLeaves, "nothing was looked at", "write how many were looked at")
	case v > mostUnits:
		rd.refuse(colLeaves, fmt.Sprintf("is more than %d on one row", mostUnits), "write how many were looked at")
	case v != math.Trunc(v):
		rd.refuse(colLeaves, "is no whole number", "write how many were looked at")
	}
	return v
}

func (rd *reader) accuracy() float64 {
	if rd.text(colAccuracy) == "" {
		return math.NaN()
	}
	v, err := rd.parseCell(colAccuracy)
	switch {
	case err != nil || v < 0:
		rd.doubt(colAccuracy, "is not a number of metres; not used", "write metres")
		return math.NaN()
	case v > poorFix:
		rd.doubt(colAccuracy, fmt.Sprintf("the place is poor: more than %d m", poorFix), "check it on a map")
	}
	return v
}

func (rd *reader) when(longitude float64) (date, clock, cell string) {
	for _, c := range []column{colDate, colTime} {
		text := rd.text(c)
		if text == "" {
			continue
		}
		d, t, ok := rd.parseTime(text)
		if !ok {
			rd.doubtUnknown(c, text)
			continue
		}
		rd.doubtDay(c, text, d)
		apart := d == "" && clock == "" // a time of day beside its date
		if apart {
			d = date
		}
		d, t = rd.placeTime.local(c, text, d, t, longitude)
		if date == "" || apart {
			date = d
		}
		if t != "" {
			clock, cell = t, text
		}
	}
	return date, clock, cell
}

// doubtUnknown says why a date or time is not used: it is none, or could be two days in
// a file with dates of both orders.
func (rd *reader) doubtUnknown(c column, text string) {
	if _, _, open := sides(text); open && rd.slashes == bothFirst {
		month, _, _ := monthFirst.parseTime(text)
		day, _, _ := dayFirst.parseTime(text)
		rd.doubt(c, fmt.Sprintf("can be %s or %s, and the file has dates of both orders; not used", spelled(month), spelled(day)), fmt.Sprintf("write it as %s or %s", month, day))
		return
	}
	const what = "is no date or time that is known; not used"
	if day := likelyDay(text); day != "" {
		rd.doubt(c, what, "write it as "+day)
		return
	}
	rd.doubt(c, what, "write it as YYYY-MM-DD, or with its time as YYYY-MM-DDThh:mm")
}

// doubtDay says at the first row how a day was read that could be another.
func (rd *reader) doubtDay(c column, text, read string) {
	rd.doubtOrder(c, text, read)
	switch rd.row.Line {
	case rd.openLine:
		if _, _, open := sides(text); open {
			other, _, _ := (dayFirst - rd.slashes).parseTime(text)
			rd.doubt(c, fmt.Sprintf("can be %s or %s; read as %s, and so are all like it", spelled(read), spelled(other), read), "write it as "+read)
		}
	case rd.serialLine:
		if isSerial(text) && read != "" {
			rd.doubt(c, fmt.Sprintf("is a number; read as the day that a spreadsheet stores so, %s, and so are all like it", read), "format the column as dates")
		}
	}
}

// doubtOrder says where the dates of a file contradict one another, and which a spreadsheet
// had swapped.
func (rd *reader) doubtOrder(c column, text, read string) {
	switch first := rd.clash.first; {
	case first.line > 0 && rd.row.Line == rd.clash.second.line && text == rd.clash.second.text:
		rd.doubt(c, fmt.Sprintf("can only be %s, while line %d has %q: the file has dates of both orders", spelled(read), first.line, first.text), "write it as "+read)
	case rd.swapped.line == rd.row.Line && rd.swapped.column == c:
		rd.doubt(c, fmt.Sprintf("was %s to the spreadsheet, which had swapped day and month; read as %s, and so are all like it", rd.swapped.stored, read), "write it as "+read)
	}
}
