//go:build !small

package sorted

import "slices"

// By sorts all in place as compare orders them; of equal ones any may come first, the same
// on every run.
func By[T any](all []T, compare func(a, b T) int) { slices.SortFunc(all, compare) }

// Stably sorts all in place as compare orders them; equal ones stay in their order.
func Stably[T any](all []T, compare func(a, b T) int) { slices.SortStableFunc(all, compare) }
