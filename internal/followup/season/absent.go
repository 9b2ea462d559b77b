//go:build js || nosqlite

package season

import (
	"errors"

	"github.com/geocoris/geocoris/geo"
)

// errAbsent is what a build without SQLite, such as the one for browsers, says of
// seasons.
var errAbsent = errors.New("season files are not in this build")

// A Season is an open season file; this build opens none.
type Season struct{}

// Open is an error in this build.
func Open(string) (*Season, error) { return nil, errAbsent }

// OpenToAdd is an error in this build.
func OpenToAdd(string) (*Season, error) { return nil, errAbsent }

// Is takes no file for a season in this build.
func Is(string) bool { return false }

// SameDatabase knows none in this build.
func SameDatabase(string, string) bool { return false }

// Roles are none in this build.
const Roles = ""

// Close does nothing.
func (*Season) Close() error { return nil }

// Add is an error in this build.
func (*Season) Add(Visit) (int64, error) { return 0, errAbsent }

// AddDay is an error in this build.
func (*Season) AddDay(Visit, bool) (int64, []int64, error) { return 0, nil, errAbsent }

// AddInPlace is an error in this build.
func (*Season) AddInPlace(Visit, bool, ...int64) (int64, []int64, error) { return 0, nil, errAbsent }

// AddRecord is an error in this build.
func (*Season) AddRecord(Record) (int64, error) { return 0, errAbsent }

// AddTreatment is an error in this build.
func (*Season) AddTreatment(Record) (int64, error) { return 0, errAbsent }

// Fields is an error in this build.
func (*Season) Fields() ([]geo.Field, error) { return nil, errAbsent }

// List is an error in this build.
func (*Season) List() ([]Line, error) { return nil, errAbsent }

// Records is an error in this build.
func (*Season) Records() ([]Record, error) { return nil, errAbsent }

// Corrections is an error in this build.
func (*Season) Corrections() ([]Correction, error) { return nil, errAbsent }

// Visit is an error in this build.
func (*Season) Visit(int64) (Visit, error) { return Visit{}, errAbsent }

// Whole is an error in this build.
func (*Season) Whole(int64) (Visit, error) { return Visit{}, errAbsent }

// Beside is an error in this build.
func (*Season) Beside() ([]Beside, error) { return nil, errAbsent }

// Merge is an error in this build.
func (*Season) Merge(...Source) (Merged, error) { return Merged{}, errAbsent }

// Page is an error in this build.
func (*Season) Page(string, Window) (Page, error) { return Page{}, errAbsent }

// Feature is an error in this build.
func (*Season) Feature(string, int64) (geo.Feature, bool, error) {
	return geo.Feature{}, false, errAbsent
}

// Extent is an error in this build.
func (*Season) Extent(string) (*Extent, error) { return nil, errAbsent }

// Copy is an error in this build.
func Copy(_, _ *Season) (Copied, error) { return Copied{}, errAbsent }

// Notes are none in this build.
func (*Season) Notes() []string { return nil }

// Check is an error in this build.
func (*Season) Check() error { return errAbsent }
