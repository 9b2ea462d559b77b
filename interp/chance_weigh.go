package interp

import (
	"math"
	"slices"
)

// Powers of what a process of an offset earns its weight by, and the weight below
// which it is dropped.
const (
	likelihoodPower = 0.25
	foresightPower  = 0.5
	leastWeight     = 1e-3
)

// leastSurprise keeps a single count that a process holds impossible from
// deciding alone.
const leastSurprise = 0.01

// weigh shares the weight among the processes, as [ChanceModel] has it, and drops
// those that are left with next to none.
func (c *Chances) weigh(level float64) {
	all, judges := c.processes(), c.judging()
	if judges == nil {
		for i := range c.pooled {
			judges = append(judges, i)
		}
	}
	chances := make([][]float64, len(all))
	byOffset := map[float64][]int{}
	var offsets []float64
	for k, p := range all {
		chances[k] = c.foresight(p, level, judges)
		if byOffset[p.Offset] == nil {
			offsets = append(offsets, p.Offset)
		}
		byOffset[p.Offset] = append(byOffset[p.Offset], k)
	}
	scores := make([]float64, len(offsets))
	for o, offset := range offsets {
		scores[o] = c.weighOffset(all, chances, byOffset[offset])
	}
	fromLogarithms(scores)
	var kept float64
	for o, offset := range offsets {
		for _, k := range byOffset[offset] {
			p := all[k]
			if p.Weight *= scores[o]; p.Weight < leastWeight {
				p.Weight = 0
			}
			kept += p.Weight
		}
	}
	for _, p := range all {
		p.Weight /= kept
	}
	c.keep()
	c.members = c.processes()
}

// weighOffset shares a weight of 1 among the processes of an offset, and returns
// the logarithm of what the offset as a whole earned.
func (c *Chances) weighOffset(all []*process, chances [][]float64, of []int) (score float64) {
	weights := make([]float64, len(of))
	for i, k := range of {
		weights[i] = likelihoodPower * all[k].likelihood
		for _, chance := range chances[k] {
			weights[i] += float64(foresightPower * math.Log(chance))
		}
	}
	fromLogarithms(weights)
	for place := range chances[of[0]] {
		var chance float64
		for i, k := range of {
			chance += float64(weights[i] * chances[k][place])
		}
		score += math.Log(chance)
	}
	for i, k := range of {
		all[k].Weight = weights[i]
	}
	return score
}

// foresight is the chance that a process gave to what was counted at some places
// when each was left out.
func (c *Chances) foresight(p *process, level float64, at []int) []float64 {
	out, b := make([]float64, len(at)), p.bar(level)
	for i, place := range at {
		count := c.pooled[place]
		chance := b.cleared(p.reading(place, level, count.Units))
		if count.Mean < level {
			chance = 1 - chance
		}
		out[i] = leastSurprise + float64((1-2*leastSurprise)*chance)
	}
	return out
}

// fromLogarithms turns logarithms into shares that add up to 1.
func fromLogarithms(v []float64) {
	best := slices.Max(v)
	var sum float64
	for i := range v {
		v[i] = math.Exp(v[i] - best)
		sum += v[i]
	}
	for i := range v {
		v[i] /= sum
	}
}
