package interp

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
	for _, p := range c.members {
		for i, units := range c.pooled {
			one := p.predicted(i, level, units.Units)
			place[i].Ground += float64(p.Weight * one.Ground)
			place[i].Reading += float64(p.Weight * one.Reading)
		}
	}
	out := make([]LeftOutChance, len(c.place))
	for i, at := range c.place {
		out[i] = LeftOutChance{Ground: min(place[at].Ground, 1), Reading: min(place[at].Reading, 1)}
	}
	return out
}

// predicted is what the others say of the place numbered i.
func (p *process) predicted(i int, level, units float64) LeftOutChance {
	b := p.bar(level)
	return LeftOutChance{Ground: b.cleared(p.left[i]), Reading: b.cleared(p.reading(i, level, units))}
}

// reading is what the others say of a count of so many units at the place numbered i.
func (p *process) reading(i int, level, units float64) gauss {
	y := p.left[i]
	return gauss{y.mean, y.variance + p.noise(level, units)}
}
