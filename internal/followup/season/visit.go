package season

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Format is the version of the tables that this package writes. Files of earlier
// ones are brought up to it when something is added; later ones are refused.
//
//	1: fields, visits, files, stops, zones
//	2: records of treatments
//	3: which fields a visit was assessed with, and the files that its settings name
//	4: whose these fields are, and how their rows run
//	5: who brought each visit, and the verdicts as they were when it was added
//	6: the same counts of other fields are another visit; what was replaced
const Format = 6

// A File is counts as they came in.
type File struct {
	Name    string // without folder
	Content []byte
}

// A SettingsFile is a file that a setting names, and that a result depends on.
type SettingsFile struct {
	Setting string // by its name among the settings
	File
}

// A Visit is one morning.
type Visit struct {
	ID       int64
	Date     string // ISO 8601, or first/last day; "" where not given
	Pest     string
	Unit     string // of the statistic, in words
	Settings string // JSON
	Author   string // who brought it, as [Authors] writes names; "" where not known
	Files    []File
	// SettingsFiles are those that Settings name; a visit that was added by a program
	// of format 1 or 2 has none, whatever its settings say.
	SettingsFiles []SettingsFile
	Fields        []geo.Field // that it was assessed with
	// Kept are the properties of fields that go with them to the applicator, by their
	// names, as texts: rows and grower.
	Kept  map[string]geo.Properties
	Stops []geo.Feature // points, as worked out when added
	Zones []geo.Feature
	// Verdicts are the boundaries of fields with what was advised when the visit was added;
	// a visit that was added by a program of an earlier format has none.
	Verdicts []geo.Feature
}

// A Record is a treatment.
type Record struct {
	Date         string // ISO 8601
	Note         string
	ReentryHours float64
	Ground       orb.MultiPolygon // degrees
}

// A Zone is ground of a field in one zone, as it was when its visit was added.
type Zone struct {
	Field, Zone string
	Hectares    float64
	Ground      orb.MultiPolygon // degrees
}

// ErrKnown is a visit that the season holds already: the same files with the same
// settings, of the same fields.
var ErrKnown = errors.New("the season holds these counts with these settings already")

// A HeldError is a field that another visit of the season tells of on the same day, or a
// visit of the same counts read as another day.
type HeldError struct {
	Visit int64
	Field string // several are parted by commas
	Date  string // ISO 8601, or first/last day
	Left  string // a field of that visit alone, so that it cannot be replaced; else ""
	By    string // another's, so that it cannot be replaced; else ""
	Same  bool   // the counts are the same, and Date is the day of them all
	// Anothers is who brought the visit, where that is another than who adds; else "".
	Anothers string
	Twin     int64 // the visit that the counts are, where Visit has nothing to do with it; else 0
	// Parts are the files of the visit where its stops and the new ones are at hardly a place the
	// same, so that both may be parts of one walk; else "".
	Parts string
}

func (e *HeldError) Error() string {
	if e.Left != "" {
		return fmt.Sprintf("visit %d cannot be replaced: it tells of %s too", e.Visit, e.Left)
	}
	if e.Twin != 0 {
		return fmt.Sprintf("visit %d cannot be replaced: it is of another day and other counts, and these are stored already, as visit %d", e.Visit, e.Twin)
	}
	if e.By != "" {
		return fmt.Sprintf("visit %d cannot be replaced: it was brought by %s", e.Visit, e.By)
	}
	if e.Same {
		return fmt.Sprintf("the season holds these counts already, as visit %d of %s", e.Visit, cmp.Or(e.Date, "no day"))
	}
	if e.Parts != "" {
		return fmt.Sprintf("the season holds counts of %s on %s at other places, as visit %d (%s)", e.Field, e.Date, e.Visit, e.Parts)
	}
	return fmt.Sprintf("the season holds counts of %s on %s already, as visit %d", e.Field, e.Date, e.Visit)
}

// A Line is a visit as the list shows it.
type Line struct {
	ID     int64    `json:"visit"`
	Date   string   `json:"date"`
	Pest   string   `json:"pest"`
	Unit   string   `json:"unit"`
	Stops  int      `json:"stops"`
	Author string   `json:"author,omitempty"`
	Files  []string `json:"files"`
}

// IsAddress reports whether a name is the address of a database, and no path of a file. One
// that is no URL is refused when it is opened, so that no file bears its password.
func IsAddress(name string) bool {
	scheme, _, is := strings.Cut(name, ":")
	return is && (strings.EqualFold(scheme, "postgres") || strings.EqualFold(scheme, "postgresql")) || inWords().MatchString(name)
}

// inWords matches host=h password=p (PostgreSQL 15 documentation, 34.1.1.1) by the words of
// which such an address has one.
var inWords = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(^|\s)(host|hostaddr|dbname|user|password|service)\s*=`)
})

// ErrBroken is a file that SQLite finds damaged.
var ErrBroken = errors.New("is broken")

func (f File) sum() string {
	sum := sha256.Sum256(f.Content)
	return hex.EncodeToString(sum[:])
}

// Known is a field as a later visit knows it, with what that does not tell, whose it is
// and its farm, as an earlier one did.
func Known(earlier, later geo.Field) geo.Field {
	later.Customer, later.Farm = cmp.Or(later.Customer, earlier.Customer), cmp.Or(later.Farm, earlier.Farm)
	return later
}
