package interp

import "math"

// cholesky is a factor L of a small covariance matrix C = LLᵀ, made row by row. For
// some thirty rows it takes less time than a library that is made for large ones.
type cholesky struct {
	rows       []float64 // of L below its diagonal, one after the other
	reciprocal []float64 // of its diagonal
}

// begin makes room for so many rows, as yet none.
func (c *cholesky) begin(n int) {
	c.rows, c.reciprocal = resized(c.rows, n*(n-1)/2)[:0], resized(c.reciprocal, n)[:0]
}

// row is that of L with the number j, which has as many numbers.
func (c *cholesky) row(j int) []float64 { return c.rows[j*(j-1)/2 : j*(j+1)/2] }

// add is one more row of C: what stands before its diagonal, and that. It is false where C
// is not positive definite.
func (c *cholesky) add(before []float64, own float64) bool {
	from := len(c.rows)
	c.rows = append(c.rows, before...)
	row := c.rows[from:]
	c.whiten(row)
	left := own - dot(row, row)
	if !(left > 0) || math.IsInf(left, 1) {
		return false
	}
	c.reciprocal = append(c.reciprocal, 1/math.Sqrt(left))
	return true
}

// whiten turns v into L⁻¹v, of as many rows as v has.
func (c *cholesky) whiten(v []float64) {
	for j := range v {
		v[j] = (v[j] - dot(c.row(j), v[:j])) * c.reciprocal[j]
	}
}

// next is the last of L⁻¹v where all before it are known, L having one row more.
func (c *cholesky) next(last float64, known []float64) float64 {
	j := len(known)
	return (last - dot(c.row(j), known)) * c.reciprocal[j]
}
