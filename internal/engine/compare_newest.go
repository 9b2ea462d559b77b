//go:build !small

package engine

import (
	"fmt"
	"maps"
	"strings"
)

// newestKept is which of the weeks that keep their settings holds the newest visit, of several
// of one day the last; −1 where none keeps any. What is known of a field changes from week to
// week, so the newest says how all are worked out, in whatever order they are given.
func newestKept(weeks []Week) (at int, err error) {
	at, newest := -1, ""
	for i, week := range weeks {
		day, ok, err := week.newest()
		if err != nil {
			return -1, err
		}
		if ok && (at < 0 || day >= newest) {
			at, newest = i, day
		}
	}
	return at, nil
}

// newest is the day of the last visit that a week holds, "" where it tells none; not ok where the
// week keeps no settings.
func (w Week) newest() (day string, ok bool, err error) {
	switch {
	case w.Folder != nil:
		if _, err := w.Folder.record(giveCounts); err != nil {
			return "", false, err
		}
		if _, err := w.Folder.sources(); err != nil {
			return "", false, err
		}
		day, err = w.Folder.LastDay()
		return day, err == nil, err
	case w.Season != nil:
		lines, err := w.Season.List()
		if n := len(lines); n > 0 {
			day = lines[n-1].Date
		}
		return day, true, err
	}
	return "", false, nil
}

// unchanged refuses a file that the map of the newest visit names, and the call does not, where it is
// no longer what was mapped: all visits would be worked out anew by it without a word.
func (q CompareRequest) unchanged(at int) error {
	if at < 0 || q.Weeks[at].Folder == nil {
		return nil
	}
	run, err := q.Weeks[at].Folder.record(giveFolder)
	if err != nil {
		return err
	}
	_, _, more := run.read()
	for _, n := range q.Settings.NamedFiles() {
		now, ok := q.Named[n.Setting]
		if !ok || *n.Path == "" || *n.Path != run.path(n.Setting) || q.Asked != nil && q.Asked(n.Setting) {
			continue
		}
		if err := sameInput(more, now, n.Setting); err != nil {
			return err
		}
	}
	return nil
}

// sameInput refuses a file that a setting names where a record has it otherwise; one that the record
// does not list is not looked at.
func sameInput(recorded []Input, now Source, setting string) error {
	for _, in := range recorded {
		if in.Path == now.Name {
			return in.still(now, fmt.Sprintf("run map again, or give --%s %s to go by it as it is now", setting, in.Path))
		}
	}
	return nil
}

// keptWeek is what the newest visit of a week was worked out with.
type keptWeek struct {
	name     string
	settings string            // but for those by which its rows are read, as JSON
	files    map[string]string // digests of those that settings name
	boundary string            // digest; "" where it is the season's own
}

func (w Week) keptWeek() (k keptWeek, err error) {
	k.files = map[string]string{}
	var o Settings
	if w.Folder != nil {
		k.name = w.Folder.Name
		run, err := w.Folder.record(giveFolder)
		if err != nil {
			return k, err
		}
		text, err := w.Folder.settings()
		if err != nil {
			return k, err
		}
		if o, err = storedSettings(text); err != nil {
			return k, fmt.Errorf("%s: %w", k.name, err)
		}
		o = withoutReading(o)
		_, boundary, more := run.read()
		if boundary != nil {
			k.boundary = boundary.SHA256
		}
		for _, n := range o.NamedFiles() {
			for _, in := range more {
				if in.Path == *n.Path {
					k.files[n.Setting] = in.SHA256
				}
			}
		}
	} else {
		k.name = w.File.Base()
		visit, err := ChosenVisit(w.Season)
		if err != nil {
			return k, err
		}
		own, err := Kept(visit)
		if err != nil {
			return k, err
		}
		o = withoutReading(own.Settings)
		for setting, from := range own.Named {
			if setting != "schema" {
				k.files[setting] = InputOf(from).SHA256
			}
		}
	}
	for _, n := range o.NamedFiles() {
		*n.Path = "" // a file is what it holds
	}
	k.settings, err = keptSettings(o)
	return k, err
}

// sayUnlike names the weeks that were worked out otherwise than the newest, by whose settings
// and, where the call gives no boundary, in whose fields all are compared.
func (q CompareRequest) sayUnlike(v *visits) error {
	at := v.newest
	if at < 0 {
		return nil
	}
	newest, err := q.Weeks[at].keptWeek()
	if err != nil {
		return err
	}
	var both, settings, boundary []string
	for i, week := range q.Weeks {
		if i == at || week.Folder == nil && week.Season == nil {
			continue
		}
		k, err := week.keptWeek()
		if err != nil {
			return err
		}
		otherSettings := k.settings != newest.settings || !maps.Equal(k.files, newest.files)
		otherBoundary := q.Boundary == nil && k.boundary != newest.boundary && k.boundary != "" && newest.boundary != ""
		switch {
		case otherSettings && otherBoundary:
			both = append(both, k.name)
		case otherSettings:
			settings = append(settings, k.name)
		case otherBoundary:
			boundary = append(boundary, k.name)
		}
	}
	listed := func(names []string) string { return strings.Join(names, ", ") }
	if both != nil {
		v.unlikeNotes = append(v.unlikeNotes, fmt.Sprintf("%s: mapped with other settings and another boundary than %s, the newest visit; all are worked out with those of the newest and the flags given", listed(both), newest.name))
	}
	if settings != nil {
		v.unlikeNotes = append(v.unlikeNotes, fmt.Sprintf("%s: mapped with other settings than %s, the newest visit; all are worked out with those of the newest and the flags given", listed(settings), newest.name))
	}
	if boundary != nil {
		v.unlikeNotes = append(v.unlikeNotes, fmt.Sprintf("%s: mapped with another boundary than %s, the newest visit; all are worked out with that of the newest", listed(boundary), newest.name))
	}
	return nil
}
