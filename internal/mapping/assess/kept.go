//go:build !small

package assess

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// Kept is what was worked out of a field with stops, once all else was let go of: a run
// that is stopped goes on by it. What the fields, the stops and the settings tell before is
// not in it.
type Kept struct {
	Stops     []KeptStop // in the order of the field's
	Together  []Together
	Mean, Max float64
	Settings  Used
	Layout    layout.Layout
	Trust     Trust
	Hindsight Hindsight
	Chance    *Chance
	Map       *zones.Map
	Without   *string // why there are no chances, where they were wanted
	Degrees   []byte
	Radius    float64
}

// A KeptStop is what was worked out of a stop.
type KeptStop struct {
	Extra   bool
	In      string
	Zone    zones.Class
	LeftOut float64
}

// Kept is what is to be kept of a field, after [Settings.Forget].
func (f *Field) Kept() Kept {
	k := Kept{
		Together: f.Together, Mean: f.Mean, Max: f.Max, Settings: f.Settings, Layout: f.Layout, Trust: f.Trust,
		Hindsight: f.Hindsight, Chance: f.Chance, Map: f.Map, Degrees: f.packed, Radius: f.radius,
	}
	if f.withoutChances != nil {
		k.Without = &f.withoutChances.why
	}
	for _, s := range f.Stops {
		k.Stops = append(k.Stops, KeptStop{s.Extra, s.In, s.Zone, s.LeftOut})
	}
	return k
}

// Restore gives a field what was kept of it; it is an error where that is of other stops.
func (f *Field) Restore(k Kept) error {
	if len(k.Stops) != len(f.Stops) || k.Map == nil {
		return fmt.Errorf("field %q: what was kept of it is of %d stops, and it has %d", f.Name, len(k.Stops), len(f.Stops))
	}
	for i, s := range k.Stops {
		f.Stops[i].Extra, f.Stops[i].In, f.Stops[i].Zone, f.Stops[i].LeftOut = s.Extra, s.In, s.Zone, s.LeftOut
	}
	f.Together, f.Mean, f.Max, f.Settings, f.Layout, f.Trust = k.Together, k.Mean, k.Max, k.Settings, k.Layout, k.Trust
	f.Hindsight, f.Chance, f.Map, f.radius = k.Hindsight, k.Chance, k.Map, k.Radius
	f.Map.Forget()
	f.packed = k.Degrees
	f.degrees = f.packed.unpack
	if k.Without != nil {
		f.withoutChances = &noChancesError{*k.Without}
	}
	return nil
}
