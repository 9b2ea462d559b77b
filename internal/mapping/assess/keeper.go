package assess

// A Keeper keeps what was worked out of fields with stops, so that a run that is stopped
// goes on where it was. Fields are known by their number in the result. Several goroutines
// ask it.
type Keeper interface {
	// Restore fills in what was kept of a field; ok is false where nothing was. Then it is
	// worked out, heard of and forgotten, and kept.
	Restore(number int, f *Field) (ok bool, err error)
	Keep(number int, f *Field) error
}
