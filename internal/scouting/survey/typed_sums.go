package survey

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Below the leaves of a stop, or at the foot of a table, people write sums and means, often
// without a word. They are no leaves. A number by itself may be one by chance, so they are
// known by what most stops have.

// mostSums is how many rows of sums, means and extremes a stop may have.
const mostSums = 3

// leastRounded is the least mean of leaves that is known by itself once it was rounded: of fewer
// insects many a leaf has as many.
const leastRounded = 5

// sumsBelow remembers rows below the leaves of a stop that are their sum, mean or the like, where
// three quarters of the stops have them, or nearly all where means are whole numbers. open
// says that more stops have such rows than by chance, and fewer than that.
func (l *layout) sumsBelow(t table, blocks []block) (open bool) {
	for k := mostSums; k > 0; k-- {
		exact, round, all, short := 0, 0, 0, false
		for _, b := range blocks {
			is, rounded, trivial := l.summed(t, b, k)
			switch {
			case len(b)-k < 2 || trivial:
				continue
			case is && rounded:
				round++
			case is:
				exact++
			}
			all, short = all+1, short || len(b)-k == 2
		}
		least := 2
		if short {
			least = 3
		}
		switch {
		case 4*exact >= 3*all && exact >= least, 10*(exact+round) >= 9*all && exact+round >= 4:
			l.sumThose(t, blocks, k)
			return false
		case 2*exact > all && exact > 1, 4*(exact+round) >= 3*all && exact+round >= 4:
			open = true
		}
	}
	return open
}

// sumThose remembers the last k rows of blocks as sums, where they are; below the last stop more
// may stand at the foot of the table.
func (l *layout) sumThose(t table, blocks []block, k int) {
	for n, b := range blocks {
		for foot := 0; foot == 0 || n == len(blocks)-1 && foot <= mostSums; foot++ {
			if len(b)-foot-k < 1 {
				break
			}
			if is, _, _ := l.summed(t, b[:len(b)-foot], k); is {
				for _, i := range b[len(b)-foot-k : len(b)-foot] {
					l.sum(t.Rows[i])
				}
				break
			}
		}
	}
}

func (l *layout) sum(r row) {
	if l.sums == nil {
		l.sums = map[int]bool{}
	}
	l.sums[r.Line] = true
}

// summed reports whether the last k rows of a block are the sum or mean of those above, and
// what else is said of these; rounded where a whole number is a mean only if it was rounded,
// trivial where all are the same, which tells nothing.
func (l *layout) summed(t table, b block, k int) (is, rounded, trivial bool) {
	if len(b)-k < 1 {
		return false, false, false
	}
	var f figures
	trivial = true
	first, _ := l.countIn(t.Rows[b[0]])
	for at, i := range b {
		n, ok := l.countIn(t.Rows[i])
		if !ok {
			return false, false, false
		}
		trivial = trivial && n == first
		if at < len(b)-k {
			f.add(n)
			continue
		}
		if l.placed(t.Rows[i]) {
			return false, false, trivial
		}
		sum := n == f.sum
		mean, exact := f.isMean(n, l.text(t.Rows[i], colCount))
		mean = mean && (exact || f.sum >= leastRounded*float64(f.n))
		if !sum && !mean && (at == len(b)-k || !f.isExtreme(n)) {
			return false, false, trivial
		}
		rounded = rounded || !sum && mean && !exact
	}
	return true, rounded, trivial
}

// placed reports whether a row tells a place.
func (l *layout) placed(r row) bool {
	return slices.ContainsFunc(whereabouts[:], func(c column) bool { return l.text(r, c) != "" })
}

// sumsAtFoot remembers rows without a name at the end of a table that are the sum of all
// counts, those below that are their mean and the like, and a mean with decimals by itself.
func (l *layout) sumsAtFoot(t table, blocks []block) {
	if len(blocks) < 2 {
		return
	}
	var f figures
	from, total := 1+blocks[len(blocks)-1][0], false
	for i, r := range t.Rows {
		n, is := l.countIn(r)
		if !is || l.sums[r.Line] || namesSum(l.text(r, colStop)) {
			continue
		}
		if i >= from && l.nameOf(r) == "" {
			mean, exact := f.isMean(n, l.text(r, colCount))
			switch {
			case n == f.sum && n > f.most:
				l.sum(r)
				total = true
				continue
			case mean && (total || exact && strings.ContainsAny(l.text(r, colCount), ".,")),
				total && (f.isExtreme(n) || n == float64(len(blocks))):
				l.sum(r)
				continue
			}
		}
		if !total {
			f.add(n)
		}
	}
}

// figures are what is said of counts.
type figures struct {
	n                int
	sum, least, most float64
}

func (f *figures) add(v float64) {
	if f.n == 0 {
		f.least, f.most = v, v
	}
	f.n, f.sum, f.least, f.most = f.n+1, f.sum+v, min(f.least, v), max(f.most, v)
}

// isMean reports whether a number is the mean, to the decimals it is written with; not exact
// where a whole number was rounded.
func (f *figures) isMean(v float64, text string) (is, exact bool) {
	const slack = 1e-9 // of numbers that a computer rounds
	decimals := 0
	if i := strings.IndexAny(text, ".,"); i >= 0 {
		decimals = len(text) - i - 1
	}
	off := math.Abs(v - f.sum/float64(f.n))
	return f.n > 0 && off <= 0.5*math.Pow10(-decimals)+slack, decimals > 0 || off <= slack
}

// isExtreme reports whether a number is the least, the most, or how many there are.
func (f *figures) isExtreme(v float64) bool {
	return v == f.least || v == f.most || v == float64(f.n)
}

// countIn is the count of a row, where it is a number and nothing else; 0 where it is not.
func (l *layout) countIn(r row) (n float64, is bool) {
	n, err := strconv.ParseFloat(l.text(r, colCount), 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
		return 0, false
	}
	return n, true
}
