//go:build small

package interp

// way picks one by the predictor: a phone holds a field's stops and asks for the nearest.
func (f *filling) way() way {
	if w, ok := f.predictor.(*weighting); ok && w.Neighbors != AllNeighbors {
		return f.byBlocks(w)
	}
	return f.singly()
}
