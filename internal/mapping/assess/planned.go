package assess

// Planned are the stops whose mean is the field's: all but the extra ones, which stand
// where more was to be learnt; all where there are no others.
func (f *Field) Planned() []Stop { return planned(f.Stops) }

// ExtraStops is how many stops the mean leaves out.
func (f *Field) ExtraStops() int { return len(f.Stops) - len(f.Planned()) }
