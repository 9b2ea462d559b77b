package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/compare"
	"github.com/geocoris/geocoris/internal/season"
)

// visits reads everything that the command line names.
func (c *compareRun) visits(s Streams) (v visitsRead, err error) {
	for _, path := range []string{c.settings, c.mapped.Schema, c.mapped.Rules, c.mapped.Observers} {
		if path != "" && !c.kept.holds(path) { // the season's digest stands for its own
			c.inputs = append(c.inputs, path)
		}
	}
	if err := c.readGround(&v); err != nil {
		return v, err
	}
	w := worker{c.mapped, v.fields, s}
	for _, week := range c.weeks {
		if err := c.week(&v, w, week); err != nil {
			return v, err
		}
	}
	if err := holdFields(c.mapped.Field, v.ground, v.surveys...); err != nil {
		return v, err
	}
	if len(v.surveys) == 1 {
		days, without := compare.ByDay(v.surveys[0])
		v.surveys = days
		for _, s := range without {
			v.notes = append(v.notes, fmt.Sprintf("stop %s does not tell its day and was left out", s.Name))
		}
	}
	if err := c.date(&v); err != nil {
		return v, err
	}
	return v, c.treated(&v)
}

// readGround finds the fields: those that are asked for, or else those of a season or
// of a folder of map among the WEEKs.
func (c *compareRun) readGround(v *visitsRead) error {
	for _, week := range c.weeks {
		if c.mapped.Field != "" {
			break
		}
		info, err := os.Stat(week)
		switch {
		case err != nil:
			return err
		case info.IsDir():
			run, err := mapRecord(week)
			if err != nil {
				return err
			}
			c.mapped.Field = run.field()
		case season.Is(week):
			file, err := season.Open(week)
			if err != nil {
				return err
			}
			v.fields, err = file.Fields()
			if err := errors.Join(err, file.Close()); err != nil {
				return err
			}
		}
	}
	if c.mapped.Field == "" && len(v.fields) == 0 {
		return usageError{errNoField}
	}
	if c.mapped.Field == "" {
		return nil
	}
	ground, err := readFields(c.mapped)
	v.fields, v.ground, v.notes = ground.Fields, ground, append(append(v.notes, ground.Notes...), ground.Warnings...)
	c.inputs = append(c.inputs, c.mapped.Field)
	return err
}

// week reads one WEEK: a season file, a folder that map wrote, or counts.
func (c *compareRun) week(v *visitsRead, w worker, week string) error {
	info, err := os.Stat(week)
	if err != nil {
		return err
	}
	paths := []string{week}
	switch {
	case info.IsDir():
		c.inputs = append(c.inputs, filepath.Join(week, "run.json"), filepath.Join(week, "summary.json"))
		if paths, err = c.samplesOf(week); err != nil {
			return err
		}
	case season.Is(week):
		c.inputs = append(c.inputs, week)
		return c.season(v, w, week)
	}
	counts, err := w.read(paths)
	if err != nil {
		return err
	}
	c.inputs = append(c.inputs, paths...)
	v.surveys = append(v.surveys, counts)
	for _, n := range counts.Notes {
		v.notes = append(v.notes, filepath.Base(week)+": "+n)
	}
	return nil
}

// season reads all visits and treatments of a season file.
func (c *compareRun) season(v *visitsRead, w worker, path string) error {
	file, err := season.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	lines, err := file.List()
	if err != nil {
		return err
	}
	var former season.Visit
	for i, l := range lines {
		visit, err := file.Visit(l.ID)
		if err != nil {
			return err
		}
		if i > 0 && !sameSettings(former, visit) {
			v.notes = append(v.notes, fmt.Sprintf("visit %d was added with other settings than the one before; all are worked out with those of the last visit and the flags given", l.ID))
		}
		former = visit
		counts, err := w.readStored(visit.Files)
		if err != nil {
			return fmt.Errorf("visit %d: %w", l.ID, err)
		}
		v.surveys = append(v.surveys, counts)
	}
	records, err := file.Records()
	for _, r := range records {
		v.treatments = append(v.treatments, compare.Treatment{Date: r.Date, Note: r.Note, ReentryHours: r.ReentryHours, Ground: r.Ground})
	}
	return err
}

// sameSettings reports whether two visits were added with the same settings, and the
// same files that these name.
func sameSettings(a, b season.Visit) bool {
	same := func(f, g season.SettingsFile) bool {
		return f.Setting == g.Setting && f.Name == g.Name && bytes.Equal(f.Content, g.Content)
	}
	return a.Settings == b.Settings && slices.EqualFunc(a.SettingsFiles, b.SettingsFiles, same)
}

// samplesOf finds the samples that a map was made from, by its run.json. They
// must be what they were.
func (c *compareRun) samplesOf(folder string) ([]string, error) {
	const hint = "give the files of counts themselves"
	run, err := mapRecord(folder)
	if err != nil {
		return nil, err
	}
	var samples []string
	for _, in := range run.samples() {
		now, err := digest(in.Path)
		if err != nil {
			return nil, hintedError{fmt.Errorf("%s was made from %s: %w", folder, in.Path, err), hint}
		}
		if now.SHA256 != in.SHA256 {
			return nil, hintedError{fmt.Errorf("%s is no longer what %s was made from", in.Path, folder), hint}
		}
		samples = append(samples, in.Path)
	}
	if len(samples) == 0 {
		return nil, hintedError{fmt.Errorf("%s does not tell its samples", folder), hint}
	}
	return samples, nil
}

// date gives the days of --dates to the visits.
func (c *compareRun) date(v *visitsRead) error {
	if len(c.options.Dates) == 0 {
		return nil
	}
	if len(c.options.Dates) != len(v.surveys) {
		return usageError{fmt.Errorf("--dates gives %d days for %d visits", len(c.options.Dates), len(v.surveys))}
	}
	for i, day := range c.options.Dates {
		dated, err := compare.WithDate(v.surveys[i], day)
		if err != nil {
			return usageError{fmt.Errorf("--dates: %w", err)}
		}
		if !slices.Contains(dated.Dates, day) {
			return fmt.Errorf("%s tells its day itself, %s, and --dates says %s", dated.Files[0], dated.Dates[0], day)
		}
		v.surveys[i] = dated
	}
	return nil
}

func (c *compareRun) treated(v *visitsRead) error {
	if c.options.Treated == "" {
		if c.options.TreatedOn != "" {
			return usageError{errors.New("--treated-on without --treated: which ground?")}
		}
		return nil
	}
	ground, err := geofile.Read(c.options.Treated, geofile.Limits{})
	if err != nil {
		return err
	}
	treatments, err := compare.Treatments(ground.Features, c.options.TreatedOn)
	if err != nil {
		return fmt.Errorf("%s: %w", ground.Name, err)
	}
	v.treatments = append(v.treatments, treatments...)
	c.inputs = append(c.inputs, c.options.Treated)
	return nil
}
