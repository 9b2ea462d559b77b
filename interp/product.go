package interp

import (
	"runtime"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// multiply is into = rows·v, of a square matrix by rows. WebAssembly has no assembly of
// the library, whose plain loop takes four times as long as this one.
func multiply(rows, v, into []float64) {
	if runtime.GOARCH != "wasm" {
		n := len(v)
		blas64.Gemv(blas.NoTrans, 1, blas64.General{Rows: n, Cols: n, Data: rows, Stride: n}, blas64.Vector{N: n, Data: v, Inc: 1}, 0, blas64.Vector{N: n, Data: into, Inc: 1})
		return
	}
	multiplyPlain(rows, v, into)
}

func multiplyPlain(rows, v, into []float64) {
	for i := range into {
		into[i] = dot(rows[i*len(v):], v)
	}
}

// dot adds up in four sums, so that none waits for the one before, and asks for the bounds
// once in eight.
func dot(row, v []float64) float64 {
	row = row[:len(v)]
	var s0, s1, s2, s3 float64
	k := 0
	for ; k+8 <= len(v); k += 8 {
		a, b := (*[8]float64)(row[k:]), (*[8]float64)(v[k:])
		s0 += float64(a[0]*b[0]) + float64(a[4]*b[4])
		s1 += float64(a[1]*b[1]) + float64(a[5]*b[5])
		s2 += float64(a[2]*b[2]) + float64(a[6]*b[6])
		s3 += float64(a[3]*b[3]) + float64(a[7]*b[7])
	}
	for ; k < len(v); k++ {
		s0 += float64(row[k] * v[k])
	}
	return s0 + s1 + (s2 + s3)
}
