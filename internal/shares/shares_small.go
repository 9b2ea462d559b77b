//go:build small

package shares

// Of does something with all of n things.
func Of(n, _ int, do func(from, to int)) {
	if n > 0 {
		do(0, n)
	}
}
