package assess

import "github.com/geocoris/geocoris/internal/geometry/zones"

// CleanShare is the most that a stop of a clean field has, of the watch level. Common
// practice is to call a field clean by eye; half is our own choice, no source.
const CleanShare = 0.5

// Clean reports whether a field tells no spots because there are none: enough stops for
// a map, all of them read, each at or below half of the watch level, and no ground to be
// treated. There a map is no better than the mean, and need not be: ground in reach of a
// stop is clear.
func (f *Field) Clean(l zones.Levels) bool {
	stops, rows, _ := Lost(f.Unread)
	return len(f.Stops) >= LeastStops && stops+rows == 0 && f.Max <= CleanShare*l.WatchAt && f.Map.Zone(zones.Treat).Area == 0
}
