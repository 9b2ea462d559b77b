package interp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/lapack/gonum"
)

// spectrum is a Gaussian process on y = log(mean + c) for one c and one range,
// under many variances at once. With errors of variance N on a covariance σ²R the
// counts have C = σ²R + N, and with N^−½RN^−½ = QTQᵀ, T tridiagonal, N^−½CN^−½ is
// Q(σ²T + 1)Qᵀ whatever σ² is. So one reduction serves every σ², of which each then
// takes a tridiagonal factor, and at a place one product with Qᵀ does.
type spectrum struct {
	*observation
	rows        []float64 // QᵀN^−½, row by row
	along, next []float64 // T: its diagonal, and what stands beside it
	z, one      []float64 // QᵀN^−½ times y less its shift, and times 1
	members     []*member
}

// newSpectrum is nil where there is no reduction. alike is R, upper triangle; work is memory
// for the reduction of so many counts.
func newSpectrum(o *observation, alike, work []float64) *spectrum {
	n := len(o.y)
	s := &spectrum{observation: o, rows: make([]float64, n*n)}
	scale := make([]float64, n)
	for i, v := range o.noise {
		scale[i] = 1 / math.Sqrt(v)
	}
	for i := range n {
		for j := i; j < n; j++ {
			s.rows[i*n+j] = alike[i*n+j] * scale[i] * scale[j]
		}
	}
	if slices.ContainsFunc(s.rows, unusable) {
		return nil
	}
	s.reduce(work)
	if slices.ContainsFunc([][]float64{s.rows, s.along, s.next}, func(of []float64) bool { return slices.ContainsFunc(of, unusable) }) {
		return nil
	}
	s.z, s.one = make([]float64, n), make([]float64, n)
	for k := range n {
		for i, f := range scale {
			v := s.rows[k*n+i] * f
			s.rows[k*n+i] = v
			s.z[k] += float64(v * (o.y[i] - o.shift))
			s.one[k] += v
		}
	}
	return s
}

// reduce turns the matrix in rows into Qᵀ and T (Householder 1958, J. ACM 5:339–342).
func (s *spectrum) reduce(work []float64) {
	n := len(s.y)
	s.along, s.next = make([]float64, n), make([]float64, n-1)
	tau, work := work[:n-1], work[n:]
	var lapack gonum.Implementation
	lapack.Dsytrd(blas.Upper, n, s.rows, n, s.along, s.next, tau, work, len(work))
	lapack.Dorgtr(blas.Upper, n, s.rows, n, tau, work, len(work))
	for i := range n {
		for j := i + 1; j < n; j++ {
			s.rows[i*n+j], s.rows[j*n+i] = s.rows[j*n+i], s.rows[i*n+j]
		}
	}
}

// reduceBlock is how many rows the reduction works on at once.
const reduceBlock = 32

// reduceMemory is as much as the reduction of so many counts takes.
func reduceMemory(counts int) []float64 { return make([]float64, (reduceBlock+1)*counts) }

func unusable(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// member is a process of a spectrum.
type member struct {
	process
	mean, meanError float64 // of y less its shift by generalised least squares, and the variance of its error
	factor
	// Of QᵀN^−½r at a place: its weights in the expected y and in the sum of the
	// counts' weights.
	toMean, toSum []float64
}

// factor is LDLᵀ of σ²T + 1, L having 1 on its diagonal.
type factor struct {
	below []float64 // of L, beside the diagonal: the k-th stands before the k-th unknown, the first is 0
	share []float64 // 1/D
}

// factored is the factor for σ². T has no eigenvalue below 0 but for rounding, so no D
// is below 1.
func (s *spectrum) factored(variance float64) factor {
	n := len(s.along)
	f := factor{below: make([]float64, n), share: make([]float64, n)}
	for k, t := range s.along {
		d := float64(variance*t) + 1
		if k > 0 {
			e := variance * s.next[k-1]
			f.below[k] = e * f.share[k-1]
			d -= float64(f.below[k] * e)
		}
		f.share[k] = 1 / max(1, d)
	}
	return f
}

// forward is L⁻¹v.
func (f factor) forward(v []float64) []float64 {
	out := make([]float64, len(v))
	var last float64
	for k, x := range v {
		last = x - float64(f.below[k]*last)
		out[k] = last
	}
	return out
}

// backward is L⁻ᵀD⁻¹v times a factor.
func (f factor) backward(v []float64, times float64) []float64 {
	out := make([]float64, len(v))
	var last, below float64
	for k := len(v) - 1; k >= 0; k-- {
		last = float64(times*v[k]*f.share[k]) - float64(below*last)
		out[k], below = last, f.below[k]
	}
	return out
}

// add makes the process of a variance, and says what the others foretell of each
// place by it.
func (s *spectrum) add(variance, reach float64) {
	m := &member{process: process{ChanceParameters: s.ChanceParameters}, factor: s.factored(variance)}
	m.Variance, m.Range = variance, reach
	z, one := m.forward(s.z), m.forward(s.one)
	var log, zz, zo, oo float64
	for k, share := range m.share {
		log -= math.Log(share)
		zz += float64(z[k] * z[k] * share)
		zo += float64(z[k] * one[k] * share)
		oo += float64(one[k] * one[k] * share)
	}
	m.mean, m.meanError = zo/oo, 1/oo
	m.Mean = s.shift + m.mean
	m.likelihood = -(log + math.Log(oo) + zz - float64(zo*m.mean)) / 2
	for k := range z {
		z[k] -= float64(m.mean * one[k])
	}
	m.left = s.withoutEach(m, z, one)
	s.members = append(s.members, m)
}

// withoutEach is as [system.leaveOneOut], without the own errors of the places; z and
// one are L⁻¹ times y less its mean, and times 1.
func (s *spectrum) withoutEach(m *member, z, one []float64) []gauss {
	n := len(s.y)
	q, qz, b, last := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for k, share := range m.share {
		below, z, one := m.below[k], z[k]*share, one[k]*share
		for i, r := range s.rows[k*n : k*n+n] {
			r -= float64(below * last[i])
			last[i] = r
			q[i] += float64(float64(share*r) * r)
			qz[i] += float64(z * r)
			b[i] += float64(one * r)
		}
	}
	left := make([]gauss, n)
	for i, y := range s.y {
		own := q[i] - float64(float64(b[i]*b[i])*m.meanError)
		left[i] = gauss{y - qz[i]/own, max(0, 1/own-s.noise[i])}
	}
	return left
}

// keep drops the members without weight, and makes the others ready for places.
func (s *spectrum) keep() {
	s.members = slices.DeleteFunc(s.members, func(m *member) bool { return m.Weight == 0 })
	for _, m := range s.members {
		rest := slices.Clone(s.z)
		for k := range rest {
			rest[k] -= float64(m.mean * s.one[k])
		}
		m.toMean = m.backward(m.forward(rest), m.Variance)
		m.toSum = m.backward(m.forward(s.one), m.Variance)
	}
}

// tell goes through what the members say of places, whose correlations with the counts
// stand row by row: two places at a time, since each step of one waits for the one before.
func (s *spectrum) tell(alike []float64, w [2][]float64, visit func(i int, p *process, v gauss)) {
	n := len(s.y)
	for i := 0; i*n < len(alike); i += 2 {
		some := alike[i*n : min((i+2)*n, len(alike))]
		for k := 0; k*n < len(some); k++ {
			multiply(s.rows, some[k*n:k*n+n], w[k])
		}
		for _, m := range s.members {
			first, second := m.ofTwo(w[0], w[1])
			visit(i, &m.process, first)
			if len(some) > n {
				visit(i+1, &m.process, second)
			}
		}
	}
}

// ofTwo is what a member says of y at two places for which v and w are QᵀN^−½r: its expected
// values and variances, the uncertainty of the mean with them.
func (m *member) ofTwo(v, w []float64) (gauss, gauss) {
	var a, b toldSums
	var lastA, lastB float64
	n := len(v)
	w, toMean, toSum, below, share := w[:n], m.toMean[:n], m.toSum[:n], m.below[:n], m.share[:n]
	for k, v := range v {
		w := w[k]
		a.value += float64(toMean[k] * v)
		b.value += float64(toMean[k] * w)
		a.sum += float64(toSum[k] * v)
		b.sum += float64(toSum[k] * w)
		lastA = v - float64(below[k]*lastA)
		lastB = w - float64(below[k]*lastB)
		a.known += float64(share[k] * float64(lastA*lastA))
		b.known += float64(share[k] * float64(lastB*lastB))
	}
	return m.ofTold(a), m.ofTold(b)
}

// toldSums are sums over the counts of what they tell of a place.
type toldSums struct{ value, sum, known float64 }

func (m *member) ofTold(t toldSums) gauss {
	known, short := float64(t.known*float64(m.Variance*m.Variance)), 1-t.sum
	return gauss{m.Mean + t.value, max(0, m.Variance-known+float64(float64(short*short)*m.meanError))}
}
