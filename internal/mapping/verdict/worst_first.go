package verdict

import "cmp"

// WorstFirst orders verdicts for lists, for [slices.SortStableFunc]: by what is lost by not
// knowing them, then by the ground to treat, the most first, by the day of the next look,
// and by the mean, the highest first, one that is not known last. nil, which is no verdict,
// comes after all.
func WorstFirst(a, b *Verdict) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	return cmp.Or(
		cmp.Compare(b.Kind.danger(), a.Kind.danger()),
		cmp.Compare(b.TreatArea, a.TreatArea),
		cmp.Compare(a.Days, b.Days),
		cmp.Compare(b.Stats.Mean, a.Stats.Mean), // NaN is less than all
	)
}
