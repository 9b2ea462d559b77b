package season

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// A Reader is a season that another is merged with.
type Reader interface {
	Fields() ([]geo.Field, error)
	List() ([]Line, error)
	Whole(id int64) (Visit, error)
	Records() ([]Record, error)
	Corrections() ([]Correction, error)
}

// A Correction is a visit that was replaced, or that came back afterwards.
type Correction struct {
	Digest string // of its counts, settings and fields
	Times  int64  // how often it came and went: 1 there, 2 replaced, 3 there again
	By     string // the digest of the visit in its place; "" where it is there
}

// A Source is a season to merge, and its name for messages.
type Source struct {
	Name string
	Reader
}

// A Merged is what came of merging.
type Merged struct {
	Visits, Known           int // that were not there yet, and that were
	Treatments, KnownGround int
	Renumbered              []Renumbered // of the visits that were there
	Replaced                []int64      // that were there, and that another season has others for
	Older                   []OlderVisit // that were left out, each once, as others took their place
	Beside                  []Beside     // all that the season now holds
	Lost                    []Loss
	Alike                   [][]string // names of fields that have one boundary
}

// An OlderVisit is one that another took the place of.
type OlderVisit struct {
	Date   string   // ISO 8601, "" for none
	Fields []string // in which it has stops
	Author string   // "" where nobody says
	digest string
}

// String names the visit: its day, its fields and who brought it.
func (o OlderVisit) String() string {
	all := append([]string{o.Date}, o.Fields...)
	all = append(all, strings.ReplaceAll(o.Author, "; ", ", "))
	return strings.Join(slices.DeleteFunc(all, func(text string) bool { return text == "" }), ", ")
}

// A Copied is what a copy brought.
type Copied struct {
	Visits, Known           int // added, and there already
	Treatments, KnownBefore int
}

// A Loss is something known of a field that two copies of one visit tell otherwise.
type Loss struct{ Field, What, Kept, Left string }

// A Renumbered is a visit that has another number than before.
type Renumbered struct{ From, To int64 }

// A BoundaryError is fields that have another boundary in one season than in another.
type BoundaryError struct{ Fields []OtherBoundary }

// An OtherBoundary is a field with two boundaries.
type OtherBoundary struct {
	Name string
	In   [2]string    // the seasons
	Has  [2]geo.Field // with their boundaries
}

func (e *BoundaryError) Error() string {
	var lines []string
	for _, f := range e.Fields {
		lines = append(lines, fmt.Sprintf("field %q has one boundary in %s and another in %s", f.Name, f.In[0], f.In[1]))
	}
	return strings.Join(lines, "\n")
}
