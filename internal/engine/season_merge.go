//go:build !small

package engine

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A SeasonSource is a season to be merged into another.
type SeasonSource = season.Source

// A SeasonMerger is a season that is open for others to be merged into it.
type SeasonMerger interface {
	SeasonReader
	Merge(from ...season.Source) (season.Merged, error)
}

// A SeasonMergeOutcome is what came of merging.
type SeasonMergeOutcome struct {
	season.Merged
	Notes []string
}

// MergeSeasons takes seasons into another, all of them or none.
func MergeSeasons(into string, file SeasonMerger, from []season.Source) (out SeasonMergeOutcome, err error) {
	out.Merged, err = file.Merge(from...)
	var other *season.BoundaryError
	if errors.As(err, &other) {
		return out, boundaries(other)
	}
	if err != nil {
		return out, err
	}
	lines, err := file.List()
	if err != nil {
		return out, err
	}
	if told, ok := file.(interface{ Notes() []string }); ok {
		out.Notes = told.Notes()
	}
	fields, err := file.Fields()
	if err != nil {
		return out, err
	}
	anew, err := laidOver(fields, out.Alike)
	out.Notes = slices.Concat(out.Notes, mergeNotes(season.Name(into), out.Merged, lines), anew)
	return out, err
}

func mergeNotes(into string, m season.Merged, lines []season.Line) (notes []string) {
	var moved []string
	slices.SortFunc(m.Renumbered, func(a, b season.Renumbered) int { return cmp.Compare(a.From, b.From) })
	for _, r := range m.Renumbered {
		moved = append(moved, fmt.Sprintf("%d → %d", r.From, r.To))
	}
	if len(moved) > 0 {
		notes = append(notes, fmt.Sprintf("visits of %s have other numbers now: %s", into, listed(moved)))
	}
	for _, n := range m.Replaced {
		notes = append(notes, fmt.Sprintf("visit %d of %s, as it was numbered before, is out: another season has one in its place", n, into))
	}
	for i, old := range m.Older {
		if i == mostNamed {
			notes = append(notes, fmt.Sprintf("and so %d older visits more", len(m.Older)-i))
			break
		}
		notes = append(notes, fmt.Sprintf("an older visit is left out, as another took its place: %s", old))
	}
	for _, l := range m.Lost {
		notes = append(notes, fmt.Sprintf("field %q: %s %q was kept and %q left out, where both have one visit", l.Field, l.What, l.Kept, l.Left))
	}
	for _, names := range m.Alike {
		notes = append(notes, fmt.Sprintf("fields %s have one boundary: compare takes them as one field, under its last name", quotedNames(names)))
	}
	beside := report.KeptTexts(m.Beside, lines)
	for i, text := range beside {
		if i == mostNamed {
			return append(notes, fmt.Sprintf("and so for %d more; season list names them", len(beside)-i))
		}
		notes = append(notes, text)
	}
	return notes
}

// laidOver names the fields that were drawn over others, less those that are known to be alike.
func laidOver(fields []geo.Field, alike [][]string) (notes []string, err error) {
	s, err := boundary.Succeed(fields)
	for _, r := range s.Redrawn {
		names := append([]string{r.Name}, r.By...)
		slices.Sort(names)
		if slices.ContainsFunc(alike, func(all []string) bool {
			return !slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(all, n) })
		}) {
			continue
		}
		notes = append(notes, fmt.Sprintf("fields %s lie on the same ground: compare takes their counts by the ground they lie on, as it was drawn last", quotedNames(names)))
	}
	return notes, err
}

// boundaries names each field that has two boundaries, with their areas, so that a person
// sees whether it is one field that was drawn twice or two fields of one name.
func boundaries(e *season.BoundaryError) error {
	var lines []string
	for _, f := range e.Fields {
		lines = append(lines, fmt.Sprintf("field %q has one boundary in %s, %s, and another in %s, %s, with %s between their middles", f.Name, f.In[0], areaOf(f.Has[0]), f.In[1], areaOf(f.Has[1]), between(f.Has[0], f.Has[1])))
	}
	return hinted(errors.New(listed(lines)), "nothing was merged; if it is one field, take the counts out of one file with season export and add them anew with the other's boundary; if they are two, name one otherwise")
}

func areaOf(f geo.Field) string {
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return "area not known"
	}
	return figures.Both.Area(geo.Area(frame.ForwardPolygons(f.Boundary)))
}

// between is how far the middles of the bounds of two fields lie from one another.
func between(a, b geo.Field) string {
	frame, err := geo.FrameOf(a.Boundary)
	if err != nil {
		return "no distance known"
	}
	x, y := frame.Forward(a.Boundary.Bound().Center()), frame.Forward(b.Boundary.Bound().Center())
	return figures.Both.Length(math.Hypot(x[0]-y[0], x[1]-y[1]))
}
