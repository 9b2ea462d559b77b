package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// A sprayed is a record of a spray that lies in a folder of a map.
type sprayed struct {
	record, ground string // paths; no ground is ""
	Date, Field    string
}

// sprayedNear are the records in the folder of a map itself and in those beside.
func sprayedNear(folder string) []sprayed {
	return append(sprayedIn(filepath.Clean(folder)), sprayedBeside(folder)...)
}

// sprayedBeside are the records in the folders of maps that lie beside a folder, not in the
// folder itself. Nothing deeper is looked at.
func sprayedBeside(folder string) (all []sprayed) {
	folder = filepath.Clean(folder)
	parent := filepath.Dir(folder)
	if folder == "." {
		parent = ".."
	}
	inside, _ := os.ReadDir(parent)
	for _, e := range inside {
		beside := filepath.Join(parent, e.Name())
		if e.IsDir() && !sameFile(beside, folder) {
			all = append(all, sprayedIn(beside)...)
		}
	}
	return all
}

// sprayedIn are the records in a folder that map wrote; one that cannot be read is none.
func sprayedIn(folder string) (all []sprayed) {
	inside, _ := os.ReadDir(folder)
	for _, e := range inside {
		if !engine.IsAppliedRecord(e.Name()) || !isMapFolder(folder) {
			continue
		}
		s := sprayed{record: filepath.Join(folder, e.Name())}
		text, err := os.ReadFile(s.record)
		if err != nil || json.Unmarshal(text, &s) != nil {
			continue
		}
		ground := engine.GroundOf(s.record)
		if _, err := os.Stat(ground); err == nil {
			s.ground = ground
		}
		all = append(all, s)
	}
	return all
}

// sprayedOf are those of fields, which are given with the first day of their count, that are not
// of a season before.
func sprayedOf(all []sprayed, counted map[string]string) []sprayed {
	return slices.DeleteFunc(all, func(s sprayed) bool {
		day, there := counted[s.Field]
		return !there || engine.LongAgo(s.Date, day)
	})
}

// note says of a spray where and when it was; does says, of its ground, what to do with it.
func (s sprayed) note(u figures.Units, does string) string {
	if s.ground == "" {
		return u.Say("%s: %s was sprayed on %s, and the label limits repeats; which ground it was is not recorded", s.record, s.Field, u.DayOfYear(s.Date))
	}
	return u.Say("%s: ground of %s was sprayed on %s, and the label limits repeats", s.ground, s.Field, u.DayOfYear(s.Date)) + does
}

// sprayedBefore are notes on sprays of the fields of a map that are recorded in its folder, as one
// that was made anew, or beside maps in folders next to it: its counts know of them only by what they left.
func (o mapOptions) sprayedBefore(made *engine.MapOutcome) (notes []string) {
	first, last := map[string]string{}, map[string]string{}
	for _, f := range made.Result.Fields {
		if days := f.Days(); len(days) > 0 {
			first[f.Name], last[f.Name] = days[0], days[len(days)-1]
		}
	}
	u := o.Said()
	for _, s := range sprayedOf(sprayedNear(o.Out), first) {
		notes = append(notes, s.note(u, s.seenBy(last[s.Field], u)))
	}
	return notes
}

// seenBy says what counts, by their last day, tell of a spray: those before it nothing, those
// of its day perhaps nothing.
func (s sprayed) seenBy(last string, u figures.Units) string {
	switch {
	case last == "" || s.Date < last:
		return u.Say(": compare with --treated %s tells whether it worked", typed(s.ground))
	case s.Date == last:
		return u.Text(": on the day of these counts")
	}
	return u.Text(": that was after this count")
}
