//go:build small

package sorted

import "sort"

// By sorts all in place as compare orders them; of equal ones any may come first, the same
// on every run.
func By[T any](all []T, compare func(a, b T) int) {
	sort.Slice(all, func(i, j int) bool { return compare(all[i], all[j]) < 0 })
}

// Stably sorts all in place as compare orders them; equal ones stay in their order.
func Stably[T any](all []T, compare func(a, b T) int) {
	sort.SliceStable(all, func(i, j int) bool { return compare(all[i], all[j]) < 0 })
}
