//go:build !small

package engine

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A Week is one visit or several, from where they come: counts, a folder that map
// wrote, or a season; one of the three.
type Week struct {
	Counts Source
	Folder *MapFolder // nil for none
	Season SeasonReader
	File   Source // the season's own, for the record
}

// Adopted is the setup that the newest visit of the weeks which keep any was worked out by
// ([newestKept]); ok is false where none does. So a season added by one rule is not compared
// by another.
func Adopted(weeks []Week) (w Setup, ok bool, err error) {
	at, err := newestKept(weeks)
	if err != nil || at < 0 {
		return w, false, err
	}
	if week := weeks[at]; week.Folder != nil {
		text, err := week.Folder.settings()
		if err != nil {
			return w, false, err
		}
		if w.Settings, err = storedSettings(text); err != nil {
			return w, false, fmt.Errorf("%s: %w", week.Folder.Name, err)
		}
		return w, true, nil
	}
	visit, err := ChosenVisit(weeks[at].Season)
	if err != nil {
		return w, false, err
	}
	if w, err = Kept(visit); err != nil {
		return w, false, fmt.Errorf("%s: %w", weeks[at].File.Name, err)
	}
	return w, true, nil
}

// visits is what the weeks hold.
type visits struct {
	newest      int // of the weeks, as [newestKept] has it
	ground      ground
	surveys     []*survey.Survey
	parted      bool // they are parts of one file
	treatments  []compare.Treatment
	notes       []string
	unlikeNotes []string        // notes on weeks that were worked out otherwise than all are now
	inputs      []Source        // that were read
	where       *assess.Locator // of the fields; nil until it is asked
	anew        map[string]bool // fields of a season, by their names, that were drawn over earlier ones
}

var errNoField = errors.New("--field is missing")

// visits reads everything that the request names.
func (q CompareRequest) visits() (v visits, err error) {
	if q.Config != nil {
		v.inputs = append(v.inputs, *q.Config)
	}
	v.inputs = append(v.inputs, q.inputs()...)
	if v.newest, err = newestKept(q.Weeks); err != nil {
		return v, err
	}
	if err := q.unchanged(v.newest); err != nil {
		return v, err
	}
	if err := q.readGround(&v); err != nil {
		return v, err
	}
	if err := q.sayUnlike(&v); err != nil {
		return v, err
	}
	for _, week := range q.Weeks {
		if err := q.week(&v, week); err != nil {
			return v, err
		}
	}
	if err := v.ground.hold(v.surveys...); err != nil {
		return v, err
	}
	if len(v.surveys) == 1 {
		if err := q.part(&v); err != nil {
			return v, err
		}
	}
	if err := q.date(&v); err != nil {
		return v, err
	}
	for _, t := range v.treatments { // of seasons: who gives a file of treatments can correct it
		if odd := v.farTreated(t); odd != "" {
			v.notes = append(v.notes, odd)
		}
	}
	return v, q.treated(&v)
}

// readGround finds the fields: those that are asked for, or else those of the season or
// of the folder of map with the newest visit.
func (q CompareRequest) readGround(v *visits) (err error) {
	from := q.Boundary
	if from == nil {
		at := v.newest
		switch {
		case at < 0:
			return usage(errNoField)
		case q.Weeks[at].Season != nil:
			return q.readSeasonGround(v, q.Weeks[at].Season)
		}
		folder := q.Weeks[at].Folder
		run, err := folder.record(giveFolder)
		if err != nil {
			return err
		}
		_, recorded, _ := run.read()
		boundary := Input{Path: run.path("field")}
		if recorded != nil {
			boundary = *recorded
		}
		loaded, err := folder.loaded(boundary)
		if err != nil {
			return hinted(err, folder.Moved(boundary.Path)+", or name it with --field")
		}
		if recorded != nil {
			if err := sameInput([]Input{boundary}, loaded, "field"); err != nil {
				return err
			}
		}
		from = &loaded
	}
	v.ground, err = q.ground(*from)
	v.notes = slices.Concat(v.notes, v.ground.Notes, v.ground.Warnings)
	v.inputs = append(v.inputs, *from)
	return err
}

// week reads one week.
func (q CompareRequest) week(v *visits, week Week) (err error) {
	samples, name := []Source{week.Counts}, week.Counts.Base()
	switch {
	case week.Folder != nil:
		name = week.Folder.Name
		v.inputs = append(v.inputs, week.Folder.Run, week.Folder.Summary)
		if samples, err = week.Folder.counts(); err != nil {
			return err
		}
	case week.Season != nil:
		v.inputs = append(v.inputs, week.File)
		return q.season(v, week)
	}
	w := q.Setup
	if week.Folder != nil {
		if w, err = q.readFolder(w, week.Folder); err != nil {
			return err
		}
	}
	if w.correcting, err = q.correctingOf(samples); err != nil {
		return err
	}
	w.correcting.Moved = week.Folder != nil
	w.Incoming = week.Folder == nil // a folder keeps what was asked about when it was mapped
	warned := v.ground.Warnings
	counts, err := w.read(&v.ground, samples)
	if err != nil {
		return err
	}
	v.warnAnew(warned)
	if w.Incoming {
		if err := q.oneVisitEach(v.ground.Fields, counts, w.Settings.OneVisit); err != nil {
			return err
		}
	}
	v.inputs = append(v.inputs, samples...)
	v.surveys = append(v.surveys, counts)
	for _, n := range slices.Concat(counts.Notes, counts.OddNotes()) {
		if !strings.HasPrefix(n, name+": ") {
			n = name + ": " + n
		}
		v.notes = append(v.notes, n)
	}
	return nil
}

// warnAnew brings the notes up to date with the warnings of the ground, which change where the
// counts show an outline to be a field.
func (v *visits) warnAnew(before []string) {
	v.notes = slices.DeleteFunc(v.notes, func(n string) bool {
		return slices.Contains(before, n) && !slices.Contains(v.ground.Warnings, n)
	})
	for _, n := range v.ground.Warnings {
		if !slices.Contains(before, n) {
			v.notes = append(v.notes, n)
		}
	}
}

// bothVisits is what to do with two visits in one file, for who compares visits.
const bothVisits = "give each visit a file of its own"

// oneVisitEach asks of the counts of a week what map asks of them: whether they are of one
// visit. A single file of counts is parted by its days instead, where it tells them.
func (q CompareRequest) oneVisitEach(fields []geo.Field, counts *survey.Survey, said bool) error {
	if only := q.Settings.Only; only != nil {
		fields = slices.DeleteFunc(slices.Clone(fields), func(f geo.Field) bool { return !slices.Contains(only, f.Name) })
	}
	if len(q.Weeks) == 1 {
		parts, _, err := visitsOf(fields, counts)
		if err != nil {
			return err
		}
		if said && len(parts) > 1 {
			return hinted(fmt.Errorf("--one-visit, and %s of %d days: which of them are one visit?", strings.Join(counts.Files, ", "), len(counts.Dates)), bothVisits)
		}
		if len(parts) > 1 {
			if err := eachOneTable(fields, parts); err != nil {
				return err
			}
		}
		counts = undated(counts)
	}
	err := oneVisit(fields, counts, said)
	if doubt := (visitDoubt{}); errors.As(err, &doubt) {
		return hinted(doubt.Err, doubt.hint(compareWords))
	}
	return err
}

// season reads all visits and treatments of a season.
func (q CompareRequest) season(v *visits, week Week) error {
	file := week.Season
	lines, err := file.List()
	if err != nil {
		return err
	}
	if err := q.parted(file, lines); err != nil {
		return err
	}
	var former season.Visit
	var all []seasonVisit
	for i, l := range lines {
		visit, err := file.Visit(l.ID)
		if err != nil {
			return err
		}
		if i > 0 && !sameSettings(former, visit) {
			v.notes = append(v.notes, fmt.Sprintf("visit %d was added with other settings than the one before; each is read as it was then, and all are worked out with those of the last visit and the flags given", l.ID))
		}
		former = visit
		w, err := q.ofVisit(visit)
		if err != nil {
			return err
		}
		if w, err = q.readVisit(w, visit); err != nil {
			return err
		}
		counts, err := w.read(&v.ground, bare(visit.Files))
		if err != nil {
			return fmt.Errorf("visit %d: %w", l.ID, err)
		}
		if counts, err = v.addedWith(visit, counts); err != nil {
			return err
		}
		all = append(all, seasonVisit{l, counts})
		for _, n := range correctionNotes(counts.Corrected, nil) {
			v.notes = append(v.notes, fmt.Sprintf("visit %d: %s", l.ID, n))
		}
	}
	records, err := file.Records()
	if err != nil {
		return err
	}
	var treatments []compare.Treatment
	for _, r := range records {
		treatments = append(treatments, compare.Treatment{Date: r.Date, Note: r.Note, ReentryHours: r.ReentryHours, Ground: r.Ground})
	}
	v.treatments = append(v.treatments, treatments...)
	v.notes = append(v.notes, SeasonNotes(file)...)
	if _, err = v.outside(treatments, week.File.Base()); err != nil {
		return err
	}
	whole, err := v.whole(file, all, treatments, q.Settings.Only)
	v.surveys = append(v.surveys, whole...)
	return err
}

// leastPart is the share of a field that is a part worth telling of.
const leastPart = 0.1

// addedWith are the counts of a visit in the fields that it was added with: the same sheet
// may have been added once more with the others.
func (v *visits) addedWith(visit season.Visit, counts *survey.Survey) (*survey.Survey, error) {
	if v.ground.file != "" {
		return counts, nil
	}
	own := map[string]bool{}
	for _, f := range visit.Fields {
		own[f.Name] = true
	}
	tells, all := make([]bool, len(v.ground.Fields)), true
	for i, f := range v.ground.Fields {
		if tells[i] = own[f.Name]; tells[i] {
			continue
		}
		share := 0.0
		var err error
		if tells[i], share, err = v.tellsOf(visit, f); err != nil {
			return nil, err
		}
		if !tells[i] && share >= leastPart {
			v.notes = append(v.notes, fmt.Sprintf("visit %d is of a part of field %q alone, and is left out there", visit.ID, f.Name))
		}
		all = all && tells[i]
	}
	if all {
		return counts, nil
	}
	where, err := v.locator()
	if err != nil {
		return nil, err
	}
	return counts.Without(func(s survey.Stop) bool {
		at := where.FieldAt(s.Longitude, s.Latitude)
		return at >= 0 && !tells[at]
	}), nil
}

// sameSettings reports whether two visits were added with the same settings, and the
// same files that these name. That one took several days is no setting of the other.
func sameSettings(a, b season.Visit) bool {
	same := func(f, g season.SettingsFile) bool {
		return f.Setting == g.Setting && f.Name == g.Name && bytes.Equal(f.Content, g.Content)
	}
	return resultOf(a.Settings) == resultOf(b.Settings) && slices.EqualFunc(a.SettingsFiles, b.SettingsFiles, same)
}

// resultOf are stored settings without what no result depends on: seasons of before may hold
// more than is kept now.
func resultOf(settings string) string {
	all, err := kept([]byte(settings))
	if err != nil {
		return settings // who reads them says what is wrong
	}
	delete(all, "one-visit")
	text, err := json.Marshal(all)
	if err != nil {
		return settings
	}
	return string(text)
}

// date gives the days that are asked for to the visits.
func (q CompareRequest) date(v *visits) error {
	days := q.Compare.Dates
	if len(days) == 0 {
		return nil
	}
	if len(days) != len(v.surveys) {
		return usage(fmt.Errorf("--dates gives %d days for %d visits", len(days), len(v.surveys)))
	}
	for i, day := range days {
		dated, err := compare.WithDate(v.surveys[i], day)
		if err != nil {
			return usage(fmt.Errorf("--dates: %w", err))
		}
		if !slices.Contains(dated.Dates, day) {
			return fmt.Errorf("%s gives its day itself, %s, and --dates says %s", dated.Files[0], dated.Dates[0], day)
		}
		v.surveys[i] = dated
	}
	return nil
}

func (q CompareRequest) treated(v *visits) error {
	if q.Treated == nil {
		if q.Compare.TreatedOn != "" {
			return usage(errors.New("--treated-on without --treated: which ground?"))
		}
		return nil
	}
	treatments, err := TreatmentsOf(*q.Treated, q.Compare.TreatedOn)
	if err != nil {
		return err
	}
	v.inputs = append(v.inputs, *q.Treated)
	for _, t := range treatments {
		if odd := v.farTreated(t); odd != "" {
			return hinted(fmt.Errorf("%s: %s", q.Treated.Base(), odd), "correct its day, or leave it out")
		}
	}
	if err := v.inFields(treatments, q.Treated.Base()); err != nil {
		return err
	}
	v.treatments = append(v.treatments, treatments...)
	return nil
}

// farTreated says of a treatment that it lies far before the first count of all visits, or far after
// the last: a year may be wrong, and whatever is told of it would be; "" where it does not.
func (v *visits) farTreated(t compare.Treatment) string {
	var days []string
	for _, s := range v.surveys {
		days = append(days, s.Dates...)
	}
	if len(days) == 0 {
		return ""
	}
	first, last := slices.Min(days), slices.Max(days)
	switch {
	case LongAgo(t.Date, first):
		return fmt.Sprintf("the treatment of %s is %.0f days before the first count, of %s: is the year right?", t.Named(), visit.Between(t.Date, first), first)
	case LongAgo(last, t.Date):
		return fmt.Sprintf("the treatment of %s is %.0f days after the last count, of %s: is the year right?", t.Named(), visit.Between(last, t.Date), last)
	}
	return ""
}

// inFields refuses a file of treatments none of which lies in a field, and names those
// that do not where others do.
func (v *visits) inFields(treatments []compare.Treatment, file string) error {
	outside, err := v.outside(treatments, file)
	if err == nil && len(outside) > 0 && len(outside) == len(treatments) {
		err = hinted(fmt.Errorf("%s: the treatment of %s lies in no field", file, outside[0].Named()), "is this the file of what was treated here, and the right boundary?")
	}
	return err
}

// outside finds and names the treatments of a file that lie in no field.
func (v *visits) outside(treatments []compare.Treatment, file string) ([]compare.Treatment, error) {
	outside, err := compare.Outside(v.ground.Fields, treatments)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	for _, t := range outside {
		v.notes = append(v.notes, fmt.Sprintf("%s: the treatment of %s lies in no field, and is left out", file, t.Named()))
	}
	return outside, nil
}
