package interp

import "math"

// A LeftOutChance is what the other counts say of the place of one that was left
// out.
type LeftOutChance struct {
	Ground  float64 // chance that the true mean there is at or above the level
	Reading float64 // chance that what was counted is: with the error of a count at the level
}

// LeaveOneOut gives the chances at each count by those elsewhere, in the order of
// the counts; parameters and weights stay as they are. Beside what was counted
// they show whether chances may be believed: of the readings given a chance near
// 0.3, three in ten should be at or above the level.
func (c *Chances) LeaveOneOut(level float64) []LeftOutChance {
	place := make([]LeftOutChance, len(c.pooled))
	for _, p := range c.processes {
		if p.Weight == 0 {
			continue
		}
		for i, one := range p.leaveOneOut(c.pooled, level) {
			place[i].Ground += float64(p.Weight * one.Ground)
			place[i].Reading += float64(p.Weight * one.Reading)
		}
	}
	out := make([]LeftOutChance, len(c.at))
	for i, at := range c.at {
		out[i] = LeftOutChance{Ground: min(place[at].Ground, 1), Reading: min(place[at].Reading, 1)}
	}
	return out
}

// leaveOneOut is that of one process, in the order of the pooled counts.
func (p *process) leaveOneOut(pooled []Count, level float64) []LeftOutChance {
	out := make([]LeftOutChance, len(pooled))
	for i, y := range p.withoutEach() {
		id := p.latent.id[i]
		reading := gauss{y.mean, y.variance + p.noise(level, pooled[id].Units)}
		out[id] = LeftOutChance{Ground: p.above(level, y), Reading: p.above(level, reading)}
	}
	return out
}

// leastSurprise keeps a single count that a process holds impossible from
// deciding alone.
const leastSurprise = 0.01

// weigh shares the weight among the processes by the product of the chances that
// each gave to what was counted when it was left out.
func (c *Chances) weigh(level float64) {
	scores := make([]float64, len(c.processes))
	best := math.Inf(-1)
	for k, p := range c.processes {
		for i, one := range p.leaveOneOut(c.pooled, level) {
			chance := one.Reading
			if c.pooled[i].Mean < level {
				chance = 1 - chance
			}
			scores[k] += math.Log(leastSurprise + float64((1-2*leastSurprise)*chance))
		}
		best = max(best, scores[k])
	}
	var sum float64
	for k := range scores {
		scores[k] = math.Exp(scores[k] - best)
		sum += scores[k]
	}
	for k, p := range c.processes {
		p.Weight = scores[k] / sum
	}
}
