package assess

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// InFiles is how the stops of one file stand in another.
type InFiles struct {
	File, Other string // the file with fewer stops of the field, and the other
	Stood              // of the stops of File
}

// StoodInFiles looks for two files of which nearly all stops of one are those of the other,
// by name and place, with other counts and nothing to tell them apart: one of them without its
// day, and no observer, leaf or plant besides. Of the field's stops only the planned ones
// count. TwoTables of the zero value is false.
func StoodInFiles(stops []survey.Stop) (found InFiles) {
	if !inSeveralFiles(stops) {
		return InFiles{}
	}
	var files []string
	of := map[string]map[string][]survey.Stop{} // by file and name
	for _, s := range stops {
		if s.Extra || s.Name == "" {
			continue
		}
		file := s.Records[0].File
		if of[file] == nil {
			of[file] = map[string][]survey.Stop{}
			files = append(files, file)
		}
		of[file][s.Name] = append(of[file][s.Name], s)
	}
	const most = 100 // files of one field: so many are no two visits
	if len(files) > most {
		return InFiles{}
	}
	for i, a := range files {
		for _, b := range files[:i] {
			in := InFiles{File: a, Other: b}
			if len(of[b]) < len(of[a]) {
				in.File, in.Other = b, a
			}
			if in.compare(of[in.File], of[in.Other]); in.TwoTables() {
				return in
			}
		}
	}
	return InFiles{}
}

func inSeveralFiles(stops []survey.Stop) bool {
	var first *survey.Record
	for i := range stops {
		if of := stops[i].Records; len(of) > 0 {
			if first == nil {
				first = &of[0]
			}
			if of[0].File != first.File {
				return true
			}
		}
	}
	return false
}

func (in *InFiles) compare(stops, others map[string][]survey.Stop) {
	for name, all := range stops {
		in.Stops += len(all)
		if len(others[name]) > mostRound { // the name of a field or the like
			continue
		}
		for _, s := range all {
			i := slices.IndexFunc(others[name], func(o survey.Stop) bool { return near(s, o) && undatedAgain(s, o) })
			if i < 0 {
				continue
			}
			in.Twice++
			if o := others[name][i]; s.Total != o.Total || s.Units != o.Units {
				in.Different++
			}
		}
	}
}

// inTwoFiles is how many stops are there that a file before has by their name, one of them
// without its day.
func inTwoFiles(stops []survey.Stop) (n int) {
	first := map[string]*survey.Stop{}
	for i := range stops {
		s := &stops[i]
		if s.Name == "" || len(s.Records) == 0 {
			continue
		}
		before := first[s.Name]
		if before == nil {
			first[s.Name] = s
			continue
		}
		if before.Records[0].File != s.Records[0].File && (before.Date == "" || s.Date == "") {
			n++
		}
	}
	return n
}

// undatedAgain reports whether two stops may be of one place at two visits, or of two scouts:
// a day is missing, and rows of both are of the same leaf.
func undatedAgain(a, b survey.Stop) bool {
	if a.Date != "" && b.Date != "" {
		return false
	}
	return slices.ContainsFunc(a.Records, func(r survey.Record) bool {
		return slices.ContainsFunc(b.Records, func(q survey.Record) bool {
			return r.Plant == q.Plant && r.Leaf == q.Leaf && r.Observer == q.Observer
		})
	})
}
