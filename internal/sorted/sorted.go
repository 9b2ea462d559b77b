//go:build !small

package sorted

import "sort"

// By sorts all in place as compare orders them; of equal ones any may come first, the same
// on every run.
func By[T any](all []T, compare func(a, b T) int) { sort.Sort(&list[T]{all, compare}) }

// Stably sorts all in place as compare orders them; equal ones stay in their order.
func Stably[T any](all []T, compare func(a, b T) int) { sort.Stable(&list[T]{all, compare}) }

// list is what is sorted, and how.
type list[T any] struct {
	all     []T
	compare func(a, b T) int
}

func (l *list[T]) Len() int           { return len(l.all) }
func (l *list[T]) Less(i, j int) bool { return l.compare(l.all[i], l.all[j]) < 0 }
func (l *list[T]) Swap(i, j int)      { l.all[i], l.all[j] = l.all[j], l.all[i] }
