//go:build !small

package interp

// way picks one by the predictor.
func (f *filling) way() way {
	if o, ok := f.predictor.(over); ok && f.distances == nil {
		return f.byChances(o)
	}
	w, ok := f.predictor.(*weighting)
	switch {
	case !ok:
		return f.singly()
	case w.Neighbors != AllNeighbors:
		return f.byBlocks(w)
	case w.farFieldPays(f.lattice):
		return f.byFarField(w)
	case w.wholeRows():
		return f.byRows(w)
	}
	return f.singly()
}

// byChances asks for several nodes at once, to the last bit as Predict does for each.
func (f *filling) byChances(o over) way {
	return way{toldAtOnce, 1, func() func(tile) {
		var nodes []node
		var places [][2]float64
		var chances [toldAtOnce]float64
		return func(t tile) {
			nodes, places = f.nodes(t, nodes[:0]), places[:0]
			for _, n := range nodes {
				places = append(places, [2]float64{n.x, n.y})
			}
			chances = [toldAtOnce]float64{}
			o.predict(places, chances[:len(places)])
			for i, n := range nodes {
				if reachable(n.x, n.y) {
					f.value.Values[n.at] = chances[i]
				}
			}
		}
	}}
}
