package cli

import (
	"os"
	"path/filepath"
	"slices"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// openWeeks opens what stands on the command line as weeks: season files, folders that
// map wrote, and files of counts.
func openWeeks(paths []string) (weeks []engine.Week, closeAll func(), err error) {
	var open []disk.SeasonFile
	closeAll = func() {
		for _, s := range open {
			s.Close()
		}
	}
	for _, path := range paths {
		var week engine.Week
		info, err := statOf(path)
		if err == nil {
			err = notTheMap(path)
		}
		switch {
		case err != nil:
		case info.folder:
			week.Folder, err = mapFolder(path)
		case info.regular && disk.IsSeason(path): // a pipe is read once
			var file disk.SeasonFile
			if file, err = disk.OpenSeason(path); err == nil {
				open, week.Season = append(open, file), file
				week.File, err = disk.SeasonSource(path, file)
			}
		default:
			week.Counts, err = disk.Load(path)
		}
		if err != nil {
			closeAll()
			return nil, nil, err
		}
		weeks = append(weeks, week)
	}
	return weeks, closeAll, nil
}

// placed is what stands on the command line: a folder, a file or a database, or neither.
type placed struct{ folder, regular bool }

func statOf(path string) (placed, error) {
	if engine.InDatabase(path) {
		return placed{regular: true}, nil
	}
	info, err := os.Stat(path)
	if err != nil {
		return placed{}, err
	}
	return placed{info.IsDir(), info.Mode().IsRegular()}, nil
}

// unnamedSprays are notes on ground that was recorded as sprayed in folders of map, the weeks
// themselves and those beside, where no treated ground was given: without it the answer is
// that of a field nobody sprayed. What a season among the weeks holds is counted in.
func (c *compareRun) unnamedSprays(made *engine.CompareOutcome) (notes []string) {
	if c.options.Treated != "" {
		return nil
	}
	u := c.mapped.Said()
	first, last, known := map[string]string{}, map[string]string{}, map[[2]string]bool{}
	for _, f := range made.Result.Fields {
		first[f.Name], last[f.Name] = f.Visits[0].Date, f.Visits[len(f.Visits)-1].Date
		for _, t := range f.Treatments {
			known[[2]string{f.Name, t.Date}] = true
		}
	}
	for _, week := range c.weeks {
		for _, s := range groundsIn(week) {
			if !known[[2]string{s.Field, s.Date}] {
				notes = append(notes, s.notCountedIn(u))
			}
		}
	}
	for _, s := range sprayedOf(c.spraysBeside(), first) {
		switch {
		case s.Date < first[s.Field]: // no count before it tells what it did
		case known[[2]string{s.Field, s.Date}] && s.ground != "":
		case s.Date > last[s.Field] || s.ground == "":
			notes = append(notes, s.note(u, s.seenBy(last[s.Field], u)))
		default:
			notes = append(notes, s.notCountedIn(u))
		}
	}
	return notes
}

// notCountedIn says of a spray whose ground is recorded that the answer goes without it, and how
// it goes with it.
func (s sprayed) notCountedIn(u figures.Units) string {
	if s.Field == "" {
		return u.Say("the spray in %[1]s is not counted in, so red ground may be sprayed already; --treated %[2]s counts it in and tells whether it worked", s.ground, typed(s.ground))
	}
	return u.Say("the spray of %s in %s is not counted in, so red ground may be sprayed already; --treated %s counts it in and tells whether it worked", u.Day(s.Date), s.Field, typed(s.ground))
}

// spraysBeside are the records in folders of maps that are the weeks or lie beside them or the
// results, but for those with their ground in the weeks themselves.
func (c *compareRun) spraysBeside() (all []sprayed) {
	for _, path := range append([]string{c.mapped.Out}, c.weeks...) {
		if engine.InDatabase(path) {
			continue
		}
		for _, s := range sprayedNear(path) {
			same := func(folder string) bool { return sameFile(folder, filepath.Dir(s.record)) }
			known := func(k sprayed) bool { return sameFile(k.record, s.record) }
			if !(s.ground != "" && slices.ContainsFunc(c.weeks, same)) && !slices.ContainsFunc(all, known) {
				all = append(all, s)
			}
		}
	}
	return all
}

// groundsIn are the sprays of a folder whose ground is recorded there; one whose record cannot be
// read has no day and field.
func groundsIn(folder string) (all []sprayed) {
	recorded := sprayedIn(folder)
	for _, path := range spraysIn(folder) {
		s := sprayed{ground: path}
		if at := slices.IndexFunc(recorded, func(r sprayed) bool { return r.ground == path }); at >= 0 {
			s = recorded[at]
		}
		all = append(all, s)
	}
	return all
}

// spraysIn are the files of ground that was recorded as sprayed in a folder; what is no
// folder holds none.
func spraysIn(folder string) (paths []string) {
	inside, _ := os.ReadDir(folder)
	for _, e := range inside {
		if engine.IsAppliedGround(e.Name()) {
			paths = append(paths, filepath.Join(folder, e.Name()))
		}
	}
	return paths
}
