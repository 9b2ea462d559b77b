package survey

import "math"

// PlantShare is the part, 0 to 1, of the stop's plants that have a leaf with at
// least tally on it; tally is above 0. Rows that say how many of their plants were at or
// above it are taken at their word. ok is false where the rows do not tell: where one
// tells no plant, or where several leaves were counted together and may lie on either
// side.
func (s Stop) PlantShare(tally float64) (share float64, ok bool) {
	over := map[string]bool{}
	unsure := map[string]bool{}
	var hits, plants float64
	for _, r := range s.Records {
		if n, of, known := r.unnamedPlants(tally); known && (r.Plant == "" || !math.IsNaN(r.Seen.Over)) {
			hits, plants = hits+n, plants+of
			continue
		}
		if r.Plant == "" {
			return 0, false
		}
		over[r.Plant] = over[r.Plant] || r.someLeaf(tally)
		unsure[r.Plant] = unsure[r.Plant] || !r.someLeaf(tally) && !(r.Total < tally)
	}
	for plant, hit := range over {
		plants++
		if hit {
			hits++
		} else if unsure[plant] {
			return 0, false
		}
	}
	return hits / plants, plants > 0
}

// someLeaf reports that one of the row's leaves must have tally or more: as many
// on one leaf, or on the average one, or any at all where any will do.
func (r Record) someLeaf(tally float64) bool {
	return r.Total/r.Units >= tally || tally <= 1 && (r.Total >= tally || !math.IsNaN(r.Infested) && r.Infested > 0)
}
