//go:build small

package interp

// A phone holds a field's stops, for which sums are quicker: it goes without far fields.
func (w *weighting) farFieldPays(Lattice) bool { return false }

func (f *filling) byFarField(*weighting) way { panic("interp: a small build has no far fields") }
