//go:build !small

package engine

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// RecordSettings are what was applied, as it was entered.
type RecordSettings struct {
	Date    string   `json:"date"`
	Field   string   `json:"field"`
	Area    string   `json:"area"`    // such as 31.9ac
	Product []string `json:"product"` // NAME=AMOUNT, a registration number in brackets behind the name
	Who     string   `json:"who"`
	Licence string   `json:"licence"`
	Carrier string   `json:"carrier"`
	Start   string   `json:"start"`
	End     string   `json:"end"`
	Wind    string   `json:"wind"`
	Weather string   `json:"weather"`
	Notes   string   `json:"notes"`
	Ground  string   `json:"ground"` // "" for none
}

// A RecordRequest asks for what was applied to be written down beside a map.
type RecordRequest struct {
	Settings RecordSettings
	Summary  *Source // summary.json of the map; nil where there is no map
	Table    *Source // the file of the name [AppliedTable] as it stands; nil for none
	Ground   *Source // the file that the setting names
	// Taken tells names of files that are there already; nil where none is.
	Taken func(name string) bool
	// Kept is the content of such a file; nil where it cannot be read.
	Kept  func(name string) []byte
	Today string // as for [MapRequest]
}

// A RecordOutcome is the record and the table with it.
type RecordOutcome struct {
	Name  string // of the record's own file
	Files []File
	// Completed reports that the record was there already, and Files its ground alone.
	Completed bool
	// FarDays is a line on the day, where it lies far from today.
	FarDays []string
	Notes   []string // on the ground that was given with it
}

// appliedStem begins the names of records and of their ground.
const appliedStem = "applied_"

// IsAppliedGround reports whether a file is called as the ground of a record is.
func IsAppliedGround(name string) bool {
	return strings.HasPrefix(name, appliedStem) && strings.HasSuffix(name, ".geojson")
}

// IsAppliedRecord reports whether a file is called as a record is.
func IsAppliedRecord(name string) bool {
	return strings.HasPrefix(name, appliedStem) && strings.HasSuffix(name, ".json")
}

// sprayedLong is how many days before a count a spray is still told of: longer than a crop
// is scouted, shorter than from one season to the next. Our choice, no source.
const sprayedLong = 120

// LongAgo reports whether a spray is no longer told of at a count of a day; at a count
// without a day all are.
func LongAgo(sprayed, counted string) bool { return visit.Between(sprayed, counted) > sprayedLong }

// SprayedAlready is said of such ground where a job is made anew that does not leave it out.
const SprayedAlready = "%s tells of ground that was sprayed already, and the label limits repeats"

// AppliedTable is the name of the table of all records.
const AppliedTable = "applied.csv"

// Check refuses what was entered wrongly, and what cannot be by the map beside it.
func (q RecordRequest) Check() error {
	a, err := q.Settings.applied()
	switch {
	case errors.Is(err, handoff.ErrNoField):
		return usage(HintedError{Err: err, Hint: "name it with --field", OnPage: "choose the field"})
	case errors.Is(err, handoff.ErrNoWho):
		return usage(HintedError{Err: err, Hint: "name who applied with --who", OnPage: "type the name of who applied"})
	case err != nil:
		return usage(err)
	}
	if q.Summary == nil {
		return nil
	}
	if err := against(a, *q.Summary); err != nil {
		return usage(err)
	}
	return nil
}

// Record writes down what was applied as it was entered: nothing is worked out or
// filled in. A record that the table has already is an error.
func Record(q RecordRequest) (*RecordOutcome, error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	a, err := q.Settings.applied()
	if err != nil {
		return nil, usage(err)
	}
	files, notes, err := q.files(a)
	if err != nil {
		return nil, err
	}
	if overnight, _ := a.Times(); overnight != "" { // what is wrong with them was refused before
		notes = append(notes, overnight)
	}
	out := &RecordOutcome{Name: files[0].Name, Files: files, Notes: notes}
	if len(files) == 1 {
		out.Name, out.Completed = recordBy(files[0].Name), true
		return out, nil
	}
	twice := q.twice(a)
	out.Notes = append(out.Notes, twice...)
	if q.Summary != nil {
		out.Notes = append(out.Notes, againstVerdict(a, *q.Summary)...)
	}
	if far := survey.FarDay(a.Date, q.Today); far != "" {
		out.FarDays = append(out.FarDays, fmt.Sprintf("--date %s %s: check the year", a.Date, far))
	}
	if len(twice) > 0 || len(out.FarDays) > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("if the record is wrong, delete %s, its ground, and its line in %s", out.Name, AppliedTable))
	}
	return out, nil
}

// GroundOf is the name of the ground of a record.
func GroundOf(record string) string { return strings.TrimSuffix(record, ".json") + ".geojson" }

// recordBy is the name of the record of some ground.
func recordBy(ground string) string { return strings.TrimSuffix(ground, ".geojson") + ".json" }

// files are the record, its ground where there is one, and the table with its line; or the ground
// alone of a record that was there without.
func (q RecordRequest) files(a handoff.Applied) (files []File, notes []string, err error) {
	ground, notes, err := q.ground(a)
	if err != nil {
		return nil, nil, err
	}
	var record bytes.Buffer
	if err := a.WriteJSON(&record); err != nil {
		return nil, nil, err
	}
	stem := appliedStem + a.Date + "_" + plainName(a.Field)
	var table []byte
	if q.Table != nil {
		table = q.Table.Content
	}
	table, err = a.AppendCSV(table)
	if lacking := q.withoutGround(stem, record.Bytes()); errors.Is(err, handoff.ErrRecorded) && ground != nil && lacking != "" {
		return []File{{lacking + ".geojson", ground}}, notes, nil
	}
	if errors.Is(err, handoff.ErrRecorded) {
		return nil, nil, hinted(err, "a second load needs a time or a note of its own; a record without its ground is given it by the same line with --ground")
	}
	if err != nil {
		return nil, nil, err
	}
	stem = q.freeStem(stem)
	files = []File{{stem + ".json", record.Bytes()}}
	if ground != nil {
		files = append(files, File{stem + ".geojson", ground})
	}
	return append(files, File{AppliedTable, table}), notes, nil
}

// ground is the ground that was sprayed, as features of the record; nil for none. A note
// tells where it is not as large as the area that was entered.
func (q RecordRequest) ground(a handoff.Applied) (content []byte, notes []string, err error) {
	switch {
	case q.Settings.Ground == "":
		return nil, nil, nil
	case q.Ground == nil:
		return nil, nil, fmt.Errorf("--ground %s: the file did not come along", q.Settings.Ground)
	}
	c, err := geofile.DecodeSource(*q.Ground, geofile.Limits{})
	if err != nil {
		return nil, nil, err
	}
	features, note, err := q.sprayed(a, c.Features)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	if note != "" {
		notes = append(notes, c.Name+": "+note)
	}
	var b bytes.Buffer
	err = collection(features)(&b)
	return b.Bytes(), notes, err
}

// plainName keeps what any file system takes.
func plainName(s string) string {
	return strings.Trim(regexp.MustCompile(`[^\pL\pN]+`).ReplaceAllString(s, "-"), "-")
}

// freeStem begins names that are not taken: a field may be sprayed twice a day.
func (q RecordRequest) freeStem(stem string) string {
	free := stem
	for n := 2; q.Taken != nil && (q.Taken(free+".json") || q.Taken(free+".geojson")); n++ {
		free = fmt.Sprintf("%s_%d", stem, n)
	}
	return free
}

// withoutGround begins the names of a record that is there word for word, and without its ground;
// "" for none.
func (q RecordRequest) withoutGround(stem string, record []byte) string {
	if q.Taken == nil || q.Kept == nil {
		return ""
	}
	at := stem
	for n := 2; q.Taken(at+".json") || q.Taken(at+".geojson"); n++ {
		if !q.Taken(at+".geojson") && bytes.Equal(q.Kept(at+".json"), record) {
			return at
		}
		at = fmt.Sprintf("%s_%d", stem, n)
	}
	return ""
}

func appliedArea() *regexp.Regexp { return regexp.MustCompile(`^\s*([0-9]*\.?[0-9]+)\s*(ha|ac)\s*$`) }

// applied takes the settings to the record.
func (o RecordSettings) applied() (a handoff.Applied, err error) {
	a = handoff.Applied{
		Date: o.Date, Start: o.Start, End: o.End, Field: o.Field, Carrier: o.Carrier, Wind: o.Wind, Weather: o.Weather,
		Who: o.Who, Licence: o.Licence, Notes: o.Notes,
	}
	m := appliedArea().FindStringSubmatch(strings.ToLower(o.Area))
	if m == nil {
		return a, fmt.Errorf("--area %q: want a number with ha or ac, such as 31.9ac", o.Area)
	}
	if a.Area, err = strconv.ParseFloat(m[1], 64); err != nil {
		return a, fmt.Errorf("--area %q: %w", o.Area, err)
	}
	a.AreaUnit = m[2]
	for _, text := range o.Product {
		d, err := dose(text)
		if err != nil {
			return a, err
		}
		a.Products = append(a.Products, d)
	}
	if err := a.Validate(); err != nil {
		return a, err
	}
	_, err = a.Times()
	return a, err
}

func dose(text string) (d handoff.Dose, err error) {
	name, amount, ok := strings.Cut(text, "=")
	if !ok {
		return d, fmt.Errorf("--product %q: want NAME=AMOUNT, such as \"product A=95.8 lb\"", text)
	}
	d = handoff.Dose{Product: strings.TrimSpace(name), Amount: strings.TrimSpace(amount)}
	if i := strings.LastIndex(d.Product, "("); i > 0 && strings.HasSuffix(d.Product, ")") {
		d.Product, d.Number = strings.TrimSpace(d.Product[:i]), d.Product[i+1:len(d.Product)-1]
	}
	return d, nil
}
