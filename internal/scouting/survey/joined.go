package survey

import (
	"cmp"
	"maps"
	"slices"
)

// Joined is two surveys of one pest as one, the stops of the second behind those of the first.
// A file of the second that bears the name of one of the first is called otherwise, as stops are
// told by their files and lines.
func Joined(a, b *Survey, otherwise func(name string) string) *Survey {
	both := *a
	named := map[string]string{}
	both.Files = slices.Clone(a.Files)
	for _, name := range b.Files {
		named[name] = name
		if slices.Contains(a.Files, name) {
			named[name] = otherwise(name)
		}
		both.Files = append(both.Files, named[name])
	}
	both.Stops = slices.Clone(a.Stops)
	for _, s := range b.Stops {
		s.Records = slices.Clone(s.Records)
		for i := range s.Records {
			s.Records[i].File = cmp.Or(named[s.Records[i].File], s.Records[i].File)
		}
		both.Stops = append(both.Stops, s)
	}
	both.Pest = cmp.Or(a.Pest, b.Pest)
	both.Dates = countedOn(both.Stops)
	both.Tally = Tally{a.Tally.Read + b.Tally.Read, a.Tally.Used + b.Tally.Used, a.Tally.SetAside + b.Tally.SetAside, a.Tally.OtherPest + b.Tally.OtherPest}
	both.Problems = slices.Concat(a.Problems, b.Problems)
	both.Unread = slices.Concat(a.Unread, b.Unread)
	both.Nones = slices.Concat(a.Nones, b.Nones)
	both.Notes = slices.Concat(both.Nones, a.Notes[len(a.Nones):], b.Notes[len(b.Nones):])
	both.Corrected = slices.Concat(a.Corrected, b.Corrected)
	both.Rough = slices.Concat(a.Rough, b.Rough)
	both.Odd = slices.Concat(a.Odd, b.Odd)
	both.Twice = slices.Concat(a.Twice, b.Twice)
	both.Slips = slices.Concat(a.Slips, b.Slips)
	both.Visits = slices.Concat(a.Visits, b.Visits)
	both.OpenDays = slices.Concat(a.OpenDays, b.OpenDays)
	if b.OneCell != nil {
		if both.OneCell = maps.Clone(a.OneCell); both.OneCell == nil {
			both.OneCell = map[string]OneCell{}
		}
		maps.Copy(both.OneCell, b.OneCell)
	}
	return &both
}
