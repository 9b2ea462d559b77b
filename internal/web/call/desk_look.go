//go:build !small

package call

import (
	"bytes"
	"context"
	"fmt"
	"path"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// lookFacts are what a file was found to be.
type lookFacts struct {
	Name    string       `json:"name"`
	Role    Role         `json:"role"` // "" where it is none that is known
	Fields  []fieldFacts `json:"fields"`
	Rows    int          `json:"rows"`    // of counts
	Columns []string     `json:"columns"` // of counts that need a word on which is which
	Wrong   string       `json:"wrong"`
	Hint    string       `json:"hint"`
}

// look says of each file what it is: by what is in it, not by its name.
func (d Desk) look(_ context.Context, r request) (any, []engine.File, error) {
	o := engine.Defaults()
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	all := []lookFacts{}
	for _, f := range r.Files {
		all = append(all, d.lookAt(f, o))
	}
	return map[string]any{"files": all}, nil, nil
}

func (d Desk) lookAt(f Given, o engine.Settings) (facts lookFacts) {
	facts = lookFacts{Name: f.Name, Fields: []fieldFacts{}, Columns: []string{}}
	from := engine.Source{Name: f.Name, Content: f.Content}
	if d.isSeason(f.Content) {
		facts.Role = Season
		return facts
	}
	if engine.IsKeptOff(f.Content) {
		facts.Role = KeepOff
		return facts
	}
	ground, notGround := engine.Fields(engine.FieldsRequest{Boundary: from})
	if notGround == nil && len(ground.Fields) > 0 {
		facts.Role, facts.Fields = Boundary, fieldsOf(*ground).Fields
		return facts
	}
	counts, notCounts := engine.Check(engine.CheckRequest{Setup: engine.Setup{Settings: o}, Samples: []engine.Source{from}})
	if notCounts == nil {
		facts.Role, facts.Rows = Counts, counts.Report.Tally.Read
		return facts
	}
	if isFeatures(f.Name) && notGround != nil {
		notCounts = notGround
	}
	if isTable(f.Name) { // counts that need a word on how to read them
		facts.Role = Counts
		if columns, err := engine.Columns(from); err == nil {
			facts.Columns = some(columns)
		}
	}
	facts.Wrong, facts.Hint = notCounts.Error(), hintOf(notCounts)
	return facts
}

// sqliteMark begins every file of SQLite, as its file format tells.
const sqliteMark = "SQLite format 3\x00"

func (d Desk) isSeason(content []byte) bool {
	if d.Seasons == nil || !bytes.HasPrefix(content, []byte(sqliteMark)) {
		return false
	}
	file, err := d.Seasons.Bring(content)
	return err == nil && file.Close() == nil
}

func isTable(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".tsv", ".txt", ".xlsx":
		return true
	}
	return false
}

func isFeatures(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson", ".json", ".kml", ".kmz", ".gpx", ".shp", ".zip", ".gpkg":
		return true
	}
	return false
}

// baseOf is the last part of a path of this machine.
func baseOf(path string) string { return path[strings.LastIndexAny(path, `/\`)+1:] }

// rowFacts are a row with what is wrong with it.
type rowFacts struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   string `json:"column"`
	Value    string `json:"value"`
	Stop     string `json:"stop"`
	Refused  bool   `json:"refused"` // set aside; else used and doubted
	What     string `json:"what"`
	Fix      string `json:"fix"`
	Finding  bool   `json:"finding"` // about a stop, not a row
	Location string `json:"location"`
}

type checkFacts struct {
	Read     int            `json:"read"`
	Used     int            `json:"used"`
	SetAside int            `json:"set_aside"`
	Stops    int            `json:"stops"`
	Dates    []string       `json:"dates"`
	OpenDays []openDayFacts `json:"open_days"`
	Pest     string         `json:"pest"`
	Rows     []rowFacts     `json:"rows"`
	Notes    []string       `json:"notes"`
	Command  string         `json:"command"`
}

// openDayFacts are a date that can be two days, and how either is asked for.
type openDayFacts struct {
	File string            `json:"file"`
	Text string            `json:"text"`
	Days map[string]string `json:"days"` // by the value of the setting, ISO 8601
}

func openDaysOf(open []engine.OpenDay) []openDayFacts {
	all := []openDayFacts{}
	for _, d := range open {
		all = append(all, openDayFacts{d.File, d.Text, map[string]string{string(engine.DayFirst): d.DayFirst, string(engine.MonthFirst): d.MonthFirst}})
	}
	return all
}

// check names the rows that cannot be read or are doubted.
func (d Desk) check(_ context.Context, r request) (any, []engine.File, error) {
	o := engine.Defaults()
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	q := engine.CheckRequest{Samples: r.all(Counts)}
	if len(q.Samples) == 0 {
		return nil, nil, fmt.Errorf("%s: no file of %s came along", r.Do, Counts)
	}
	var err error
	if q.Boundary, err = r.atMostOne(Boundary); err != nil {
		return nil, nil, err
	}
	if q.Boundary != nil {
		o.Field = q.Boundary.Name
	}
	if q.Setup, err = r.setup(o); err != nil {
		return nil, nil, err
	}
	made, err := engine.Check(q)
	if err != nil {
		return nil, nil, err
	}
	found := made.Report
	facts := checkFacts{
		Read: found.Tally.Read, Used: found.Tally.Used, SetAside: found.Tally.SetAside, Stops: len(found.Stops()),
		Dates: some(found.Survey.Dates), OpenDays: openDaysOf(found.Survey.OpenDays), Pest: found.Survey.Pest, Rows: []rowFacts{}, Notes: some(append(found.Survey.Notes, found.Notes...)),
	}
	for i, p := range append(found.Problems[:len(found.Problems):len(found.Problems)], found.Findings...) {
		facts.Rows = append(facts.Rows, rowFacts{
			File: p.File, Line: p.Line, Column: p.Column, Value: p.Value, Stop: p.Stop, Refused: p.Severity.String() == "refused",
			What: p.Said(), Fix: p.Fix, Finding: i >= len(found.Problems), Location: p.Place(),
		})
	}
	o.Out = "checked"
	facts.Command = commandOf("check", namesOf(q.Samples), o)
	return facts, made.Files, nil
}

func namesOf(files []engine.Source) (names []string) {
	for _, f := range files {
		names = append(names, f.Name)
	}
	return names
}
