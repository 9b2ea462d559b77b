package survey

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// HoneydewAndColonies is the sign of plants that show both.
const HoneydewAndColonies = "honeydew and colonies"

// PlantsOf is how many plants rows are of: the names of plants in them, and those that
// rows without a name tell; 0 where none does.
func PlantsOf(rows []Record) int {
	names := map[string]bool{}
	more := 0.0
	for _, r := range rows {
		switch {
		case r.Plant != "":
			names[r.Plant] = true
		case r.Seen != nil && !math.IsNaN(r.Seen.Plants):
			more += r.Seen.Plants
		}
	}
	return len(names) + int(more)
}

// unnamedPlants is what a row tells of plants without naming them: how many of how many are at
// or above a tally, above 0.
func (r Record) unnamedPlants(tally float64) (hits, plants float64, ok bool) {
	if r.Seen == nil || math.IsNaN(r.Seen.Plants) {
		return 0, 0, false
	}
	plants = r.Seen.Plants
	switch {
	case !math.IsNaN(r.Seen.Over) && r.Seen.at(tally):
		return r.Seen.Over, plants, true
	case r.Total < tally: // none of its plants can have so many
		return 0, plants, true
	case tally <= 1 && !math.IsNaN(r.Infested) && r.Units == plants:
		return r.Infested, plants, true
	}
	return 0, 0, false
}

// at reports whether the plants over are at or above a tally: as the row says, or where
// it does not say.
func (s Seen) at(tally float64) bool {
	if s.AtOrAbove == "" {
		return true
	}
	v, err := strconv.ParseFloat(strings.Replace(s.AtOrAbove, ",", ".", 1), 64)
	return err == nil && v == tally
}

// shows reports whether the plants over are those with a sign, likewise.
func (s Seen) shows(sign string) bool {
	return s.AtOrAbove == "" || plainWord(strings.Join(strings.Fields(s.AtOrAbove), " ")) == plainWord(sign)
}

// SignShare is the part, 0 to 1, of the stop's plants that show a sign: honeydew,
// colonies, or both ([HoneydewAndColonies]). ok is false where the rows do not tell: where
// several plants are on one row, some with the one sign and some with the other.
func (s Stop) SignShare(sign string) (share float64, ok bool) {
	signs := strings.Split(sign, " and ")
	named := map[string][]bool{} // plant → each sign
	var hits, plants float64
	for _, r := range s.Records {
		if r.Seen == nil {
			return 0, false
		}
		if n, of, known := r.Seen.over(sign); known {
			hits, plants = hits+n, plants+of
			continue
		}
		found, known := r.Seen.signs(signs)
		switch {
		case !known:
			return 0, false
		case r.Plant != "" && r.Seen.Plants == 1:
			if named[r.Plant] == nil {
				named[r.Plant] = make([]bool, len(signs))
			}
			for i, n := range found {
				named[r.Plant][i] = named[r.Plant][i] || n > 0
			}
		default:
			n, known := both(found, r.Seen.Plants)
			if !known {
				return 0, false
			}
			hits, plants = hits+n, plants+r.Seen.Plants
		}
	}
	for _, found := range named {
		plants++
		if !slices.Contains(found, false) {
			hits++
		}
	}
	return hits / plants, plants > 0
}

// over is what a row tells itself of plants with a sign.
func (s Seen) over(sign string) (hits, plants float64, ok bool) {
	return s.Over, s.Plants, !math.IsNaN(s.Over) && s.shows(sign)
}

// signs are on how many plants each of some signs was found.
func (s Seen) signs(names []string) (found []float64, ok bool) {
	for _, name := range names {
		i := slices.IndexFunc(s.Signs(), func(n NamedSign) bool { return n.Name == name })
		if i < 0 || math.IsNaN(s.Signs()[i].Number) {
			return nil, false
		}
		found = append(found, s.Signs()[i].Number)
	}
	return found, len(found) > 0 && !math.IsNaN(s.Plants)
}

// both is on how many of the plants all signs are, where there is but one answer.
func both(found []float64, plants float64) (n float64, ok bool) {
	least, missing := plants, 0.0
	for _, f := range found {
		least, missing = min(least, f), missing+plants-f
	}
	return least, max(0, plants-missing) == least
}
