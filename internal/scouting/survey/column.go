package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/geocoris/geocoris/geo"
)

// column is what the cells under a header mean.
type column int

const (
	colStop column = iota
	colLongitude
	colLatitude
	colEasting
	colNorthing
	colWKT
	colCount
	colMean
	colGroups
	colGroupSize
	colLeaves
	colEmpty
	colOver
	colInfested
	colPlant
	colLeaf
	colDate
	colTime
	colObserver
	colPest
	colStage
	colAtOrAbove
	colHoneydew
	colColonies
	colPredators
	colMummies
	colAccuracy
	colKind
	colNotes
	columns
)

// headers are the names a column may have, its own first. They are compared
// without regard to case, blanks, dots and underscores. Synonyms are common
// practice, no source.
var headers = [columns][]string{
	colStop:      {"stop", "stop_id", "id", "sample", "sample_id", "point", "point_id", "site", "site_id", "station", "spot", "waypoint", "name"},
	colLongitude: {"longitude", "lon", "long", "lng", "x", "longitude_deg"},
	colLatitude:  {"latitude", "lat", "y", "latitude_deg"},
	colEasting:   {"easting", "utm_easting", "utm_e", "east"},
	colNorthing:  {"northing", "utm_northing", "utm_n", "north"},
	colWKT:       {"wkt", "geometry", "geom", "the_geom"},
	colCount:     {"count", "counts", "total", "total_count", "number", "n", "aphids", "aphid_count", "insects"},
	colMean:      {"mean_per_leaf", "mean", "per_leaf", "count_per_leaf", "aphids_per_leaf", "aphids_leaf", "average", "average_per_leaf", "avg", "avg_per_leaf", "average_aphids_per_leaf", "avg_aphids_per_leaf", "mean_aphids_per_leaf"},
	colGroups:    {"groups", "n_groups", "number_of_groups"},
	colGroupSize: {"group_size", "size_of_group", "per_group"},
	colLeaves:    {"leaves", "n_leaves", "leaves_counted", "number_of_leaves", "leaves_checked", "leaves_examined", "units", "n_units", "units_checked", "sample_size", "effort"},
	colEmpty:     {"empty", "empty_leaves", "leaves_empty", "n_empty"},
	colOver:      {"plants_over", "plants_at_or_above", "plants_above", "plants_over_tally", "n_plants_over", "pflanzen_darüber", "pflanzen_darueber", "plantas_sobre"},
	colInfested:  {"infested", "infested_leaves", "leaves_infested", "infested_plants", "plants_infested", "n_infested"},
	colPlant:     {"plant", "plant_id", "plant_number"},
	colLeaf:      {"leaf", "leaf_id", "leaf_number", "leaf_position"},
	colDate:      {"date", "day", "sampled", "sample_date", "sampling_date"},
	colTime:      {"time", "datetime", "date_time", "timestamp", "sampled_at"},
	colObserver:  {"observer", "scout", "counted_by", "sampler"},
	colPest:      {"pest", "species", "insect", "organism"},
	colStage:     {"stage", "growth_stage", "crop_stage"},

	colAtOrAbove: {"at_or_above", "over_tally", "tally_at"},
	colHoneydew:  {"honeydew", "plants_with_honeydew", "honeydew_plants", "honigtau", "mielecilla", "melaza", "ligamaza"},
	colColonies:  {"colonies", "plants_with_colonies", "colony_plants", "kolonien", "colonias"},
	colPredators: {"predators", "predator_count", "räuber", "raeuber", "depredadores"},
	colMummies:   {"mummies", "mummy_count", "aphid_mummies", "mumien", "momias"},

	colAccuracy: {"accuracy_m", "accuracy", "gps_accuracy", "horizontal_accuracy", "gps_accuracy_m"},
	colKind:     {"kind", "stop_kind"},
	colNotes:    {"notes", "note", "comment", "comments", "remark", "remarks"},
}

func (c column) String() string { return headers[c][0] }

// same folds a header to what is compared.
func same(header string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, header)
}

var meanings = sync.OnceValue(func() *map[string]column {
	m := map[string]column{}
	for c := range columns {
		for _, name := range c.names() {
			m[same(name)] = c
		}
	}
	return &m
})

// layout says where each column of a table stands.
type layout struct {
	at        [columns]int    // position in a row, or −1
	told      map[column]bool // of those that tell that somebody was at a stop: any row fills them; nil until asked
	lastFound int             // line of the last row with a count, once told was asked
	width     int             // cells of the header, blank ones at its end apart
	usual     int             // cells that most rows have
	unnamed   bool            // stops are known by their position
	lenient   bool            // rows that tell plants over a tally need no count
	shares    bool            // what is wrong with the plants over a tally refuses a row
	unit      string          // that counts are asked for of; "" where it does not matter
	plants    int             // of a column of how many were looked at that is not read; −1 for none
	field     int             // of a column that names fields; −1 for none
	bareZero  bool            // a bare word for none is a count of 0
	ofPlants  bool            // the units come from a column of plants
	effort    effort          // how it tells how much was looked at
	counted   string          // what rows are of, as [Looked] has it; "" without a column of it
	utm       *geo.UTM        // of eastings and northings

	sums map[int]bool // lines that are sums or means of others, though nothing says so
	lost map[int]int  // lines of stops that lost their name, by the first of each
	// together are lines whose count or leaves are those of several rows.
	together map[int]column

	fixPosition FixPosition
	decimals
	slashes
	openLine   int // of the first date that the file leaves open; 0 for none
	openDay    OpenDay
	proven     proven
	clash      clash
	swapped    swapped
	serialLine int // of the first date that is a spreadsheet's number
	placeTime
}

// text is the cell of a column, "" where there is none.
func (l *layout) text(r row, c column) string {
	if i := l.at[c]; i >= 0 && i < len(r.Cells) {
		return strings.TrimSpace(r.Cells[i])
	}
	return ""
}

// fieldOf is the field that a row names, "" for none.
func (l *layout) fieldOf(r row) string {
	if l.field < 0 || l.field >= len(r.Cells) {
		return ""
	}
	return strings.TrimSpace(r.Cells[l.field])
}

// layOut reads a header. notes say which synonyms were understood and which
// columns are not used.
func layOut(t table, opts Options) (l layout, notes []string, err error) {
	l.width, l.usual, l.fixPosition, l.plants = len(trimmed(t.Header)), usualCells(t), opts.FixPosition, -1
	l.lenient, l.shares, l.unit = opts.Shares || opts.Uncounted, opts.Shares, opts.Unit
	for c := range l.at {
		l.at[c] = -1
	}
	l.field = namedField(t.Header)
	meaning, e, err := meaningFor(t, opts)
	if err != nil {
		return l, nil, err
	}
	l.effort = e
	var read, unused []string
	var spare []int // columns that are not understood
	for i, header := range t.Header {
		c, known := meaning(header)
		if !known {
			if l.plants < 0 && plantsLookedAt(header) {
				l.plants = i
				if tellPlants(t.Header, meaning) {
					continue // they are of so many
				}
			}
			if strings.TrimSpace(header) != "" && header != t.spoken {
				spare = append(spare, i)
				switch {
				case i != l.field:
					unused = append(unused, quote(header))
				case same(header) != fieldHeaders[0]: // it tells of rows that lost their place
					read = append(read, quote(header)+" as "+fieldHeaders[0])
				}
			}
			continue
		}
		if i == l.field { // it was said to be of something else
			l.field = -1
		}
		if err := l.take(t, c, i); err != nil {
			return l, nil, err
		}
	}
	for i, header := range t.Header {
		if c, known := meaning(header); known && l.at[c] != i {
			unused = append(unused, quote(header))
		} else if known && c == colLeaves && (e.of != "" && e.of != "leaf" || e.column() != colLeaves.String()) {
			read = append(read, quote(header)+" as how many were looked at")
		} else if known && same(header) != same(c.String()) {
			read = append(read, fmt.Sprintf("%s as %s", quote(header), c))
		}
	}
	if len(read) > 0 {
		notes = append(notes, fmt.Sprintf("%s: columns read: %s", t.File, strings.Join(read, ", ")))
	}
	if len(unused) > 0 {
		notes = append(notes, fmt.Sprintf("%s: columns not used: %s", t.File, Listed(unused)))
	}
	more, err := l.complete(t, opts, spare)
	if err != nil {
		return l, nil, err
	}
	notes = append(notes, more...)
	if i := l.at[colLeaves]; i >= 0 {
		l.ofPlants, l.counted = plantsLookedAt(t.Header[i]), l.effort.counted()
	}
	if err := cutDecimals(t, &l); err != nil {
		return l, nil, err
	}
	l.bareZero = bareZero(t, &l)
	l.decimals = decimalsOf(t, &l)
	if note := thousandsOf(t, &l); note != "" {
		notes = append(notes, note)
	}
	if note := wordsBehind(t, &l); note != "" {
		notes = append(notes, note)
	}
	if l.sexagesimal(t) {
		notes = append(notes, fmt.Sprintf("%s: positions in degrees and minutes", t.File))
	}
	var note string
	if l.slashes, l.openLine, note, err = slashesOf(t, &l, opts.asked, opts.proven); err != nil {
		return l, nil, err
	} else if note != "" {
		notes = append(notes, note)
	}
	if note, err = unswap(t, &l, opts.asked); err != nil {
		return l, nil, err
	} else if note != "" {
		notes = append(notes, note)
	}
	if l.serialLine, note = serialsOf(t, &l); note != "" {
		notes = append(notes, note)
	}
	var local []string
	l.placeTime, local, err = placeTimeOf(t, &l, opts.UTCOffset)
	return l, append(notes, local...), err
}

// usualCells is how many cells most rows have, the larger of two numbers as common.
// Only where delimiters part them does one more tell anything.
func usualCells(t table) (usual int) {
	if !t.Delimited {
		return math.MaxInt
	}
	widths := map[int]int{}
	for _, r := range t.Rows {
		widths[len(r.Cells)]++
	}
	for n, times := range widths {
		if times > widths[usual] || times == widths[usual] && n > usual {
			usual = n
		}
	}
	return usual
}

func quote(header string) string { return fmt.Sprintf("%q", shorten(strings.TrimSpace(header))) }

// measured columns carry the numbers and what they are of: two that could be
// meant are never chosen between, whatever they are called.
func (c column) measured() bool { return c >= colLongitude && c <= colInfested || c == colPest }

// describing columns only say more about a row.
func (c column) describing() bool {
	return c == colPlant || c == colLeaf || c == colObserver || c == colStage || c == colKind || c == colNotes
}

// take gives a column its place. A Spanish name gives way to an English one, as "hora" may
// stand beside "datetime". Of two columns for a measure neither is taken;
// for the others a column's own name goes before its synonyms, as in a table
// with both stop and id.
func (l *layout) take(t table, c column, i int) error {
	before := l.at[c]
	own := func(i int) bool { return same(t.Header[i]) == same(c.String()) }
	switch {
	case before < 0:
		l.at[c] = i
	case isSpanish(t.Header[i]) && !isSpanish(t.Header[before]):
	case isSpanish(t.Header[before]) && !isSpanish(t.Header[i]):
		l.at[c] = i
	case !c.measured() && own(before) && !own(i):
	case !c.measured() && own(i) && !own(before):
		l.at[c] = i
	case c.describing(): // the first stands
	default:
		return fmt.Errorf("%s: columns %s and %s both read as %s; rename the one that is not",
			t.File, quote(t.Header[before]), quote(t.Header[i]), c)
	}
	return nil
}

// complete checks that what a count rests on is there.
func (l *layout) complete(t table, opts Options, spare []int) (notes []string, err error) {
	missing, err := l.missingPosition(t, opts.UTM)
	if err != nil {
		return nil, err
	}
	if l.uncounted() && !(l.lenient && l.tellsPlants()) {
		missing = append(missing, "count (or mean_per_leaf, or groups and group_size)")
	}
	if l.at[colStop] < 0 {
		if !opts.UnnamedStops {
			missing = append(missing, "stop (or give --unnamed-stops to take each position as a stop)")
		}
		l.unnamed = true
	}
	if len(missing) > 0 && t.Points != "" {
		return nil, t.missing(l.uncounted())
	}
	if len(missing) > 0 {
		return nil, fmt.Errorf("%s: no column for %s; the header has %s%s", t.File, strings.Join(missing, ", nor for "), Listed(quoted(t.written())), l.howToName(t, columnsOf(missing), spare, opts))
	}
	if l.at[colCount] >= 0 && l.at[colMean] >= 0 {
		notes = append(notes, fmt.Sprintf("%s: column %s goes before %s", t.File, quote(t.Header[l.at[colCount]]), quote(t.Header[l.at[colMean]])))
	}
	if err := l.checkRenamed(t, opts); err != nil {
		return nil, err
	}
	if err := l.doubtSpanish(t, spare); err != nil {
		return nil, err
	}
	note, err := l.doubtLeaves(t, spare)
	if note != "" {
		notes = append(notes, note)
	}
	return notes, err
}

func quoted(header []string) []string {
	out := make([]string, len(header))
	for i, h := range header {
		out[i] = quote(h)
	}
	return out
}

// mostListed is how many names a message has.
const mostListed = 20

// Listed is the first of many names, and how many more there are.
func Listed(names []string) string {
	if len(names) > mostListed {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostListed], ", "), len(names)-mostListed)
	}
	return strings.Join(names, ", ")
}

// columnsOf are the columns that words on missing ones begin with.
func columnsOf(missing []string) (all []column) {
	for _, c := range []column{colLongitude, colLatitude, colCount, colStop} {
		if slices.ContainsFunc(missing, func(m string) bool { return strings.HasPrefix(m, c.String()) }) {
			all = append(all, c)
		}
	}
	return all
}
