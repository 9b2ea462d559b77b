//go:build small

package shares

// Of does something with all of n things.
func Of(n, _ int, do func(from, to int)) {
	if n > 0 {
		do(0, n)
	}
}

// Found is what is found in n things.
func Found[T any](n, _ int, in func(from, to int) []T) []T { return in(0, n) }

// Both does two things.
func Both(one, other func()) {
	one()
	other()
}
