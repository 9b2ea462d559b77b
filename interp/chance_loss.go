package interp

import "math"

// A ShiftedLogNormal is what one process says of the true mean m of a place: with the
// weight w, log(m + c) is normal with this mean and variance.
type ShiftedLogNormal struct {
	Weight   float64 // 0 to 1; over the processes of a place they add up to 1
	Offset   float64 // c, in the unit of the means
	Mean     float64 // of log(m + c)
	Variance float64 // of it, 0 or more
}

// At tells what is known of the true mean at a place, process by process, those without
// weight left out; nil for a place that is not finite or beyond 1e100 m.
func (c *Chances) At(x, y float64) []ShiftedLogNormal {
	return c.AtEach([][2]float64{{x, y}})[0]
}

// AtEach is [Chances.At] of each of many places, in metres along x and y: the processors
// share them, and several together take less time than one after the other.
func (c *Chances) AtEach(places [][2]float64) [][]ShiftedLogNormal {
	all := make([][]ShiftedLogNormal, len(places))
	shared(len(places), func(from, to int) { c.at(places[from:to], all[from:to]) })
	return all
}

// at tells of places side by side, in memory of one piece.
func (c *Chances) at(places [][2]float64, all [][]ShiftedLogNormal) {
	n := len(c.members)
	memory := make([]ShiftedLogNormal, len(places)*n)
	for i := range all {
		all[i] = memory[i*n : i*n : i*n+n]
	}
	c.tell(places, func(i int, p *process, g gauss) {
		k := len(all[i]) // there is room for all
		all[i] = all[i][:k+1]
		all[i][k] = ShiftedLogNormal{p.Weight, p.Offset, g.mean, g.variance}
	})
	for i, at := range places {
		if !reachable(at[0], at[1]) {
			all[i] = nil
		}
	}
}

// Over is w times the chance that m is at or above a level, as [Chances.Over] adds it
// up over the processes.
func (d ShiftedLogNormal) Over(level float64) float64 {
	return float64(d.Weight * ChanceParameters{Offset: d.Offset}.above(level, gauss{d.Mean, d.Variance}))
}

// A Threshold adds up [ShiftedLogNormal.Over] over what is known of a place, of one place
// after the other: the logarithms, which go by the offsets, are kept from one to the next.
// No two goroutines may share it.
type Threshold struct {
	level float64
	bars  []offsetBar // of each process by its place in the list
}

type offsetBar struct {
	offset float64
	bar
}

// NewThreshold returns that of a level in the unit of the means.
func NewThreshold(level float64) *Threshold { return &Threshold{level: level} }

// Of is the chance of being at or above the level, to the bit that of [Chances.Over]; 0 where
// nothing is known.
func (t *Threshold) Of(place []ShiftedLogNormal) (chance float64) {
	for i, d := range place {
		if i == len(t.bars) {
			t.bars = append(t.bars, offsetBar{offset: math.NaN()})
		}
		b := &t.bars[i]
		if b.offset != d.Offset {
			*b = offsetBar{d.Offset, ChanceParameters{Offset: d.Offset}.bar(t.level)}
		}
		chance += float64(d.Weight * b.cleared(gauss{d.Mean, d.Variance}))
	}
	return min(chance, 1) // weights add up to 1 but for rounding
}

// Capped is w times the expected min(max(m, 0), most), for most of 0 or more: that of a
// mean from 0 to a cap. It is w·(C(c) − C(c + most)), where
//
//	C(K) = E(m + c − K)⁺ = e^(μ+v/2)·Φ((μ + v − ln K)/s) − K·Φ((μ − ln K)/s), s = √v,
//
// as of the price of a call option (Black & Scholes 1973, J. Polit. Econ. 81:637–654,
// from memory), put together so that no two large numbers are taken from one another.
// A variance above 700 is taken as 700, beyond which e^(v/2) is no number.
func (d ShiftedLogNormal) Capped(most float64) float64 {
	c := d.cappings(math.Log(d.Offset))
	return c.at(most, math.Log(d.Offset+most))
}

// Caps add up [ShiftedLogNormal.Capped] of two caps over what is known of a place, of one
// place after the other, as a [Threshold] does. No two goroutines may share them.
type Caps struct {
	one, other float64
	logs       []capLogs // of each process by its place in the list
}

// capLogs are the logarithms of an offset, and of it with each of the caps.
type capLogs struct{ offset, own, one, other float64 }

// NewCaps returns those of two caps of 0 or more, in the unit of the means.
func NewCaps(one, other float64) *Caps { return &Caps{one: one, other: other} }

// Of are both sums; 0 where nothing is known.
func (c *Caps) Of(place []ShiftedLogNormal) (one, other float64) {
	for i, d := range place {
		if i == len(c.logs) {
			c.logs = append(c.logs, capLogs{offset: math.NaN()})
		}
		logs := &c.logs[i]
		if logs.offset != d.Offset {
			*logs = capLogs{d.Offset, math.Log(d.Offset), math.Log(d.Offset + c.one), math.Log(d.Offset + c.other)}
		}
		all := d.cappings(logs.own)
		one += all.at(c.one, logs.one)
		other += all.at(c.other, logs.other)
	}
	return one, other
}

// cappings are what Capped of any cap goes by.
type cappings struct {
	ShiftedLogNormal
	s, mean        float64 // √v and e^(μ+v/2)
	shifted, plain tail
	*tails
}

// cappings takes the logarithm of the offset.
func (d ShiftedLogNormal) cappings(logOffset float64) cappings {
	if d.Variance == 0 {
		return cappings{ShiftedLogNormal: d, mean: math.Exp(d.Mean)}
	}
	v := min(d.Variance, 700)
	s := math.Sqrt(v)
	a := (logOffset - d.Mean) / s
	t := normalTails()
	return cappings{d, s, math.Exp(d.Mean + v/2), t.tailAt(a - s), t.tailAt(a), t}
}

// at also takes the logarithm of the offset and the cap.
func (c *cappings) at(most, logHigh float64) float64 {
	low := c.Offset
	if c.Variance == 0 {
		return c.Weight * (min(max(c.mean, low), low+most) - low)
	}
	b := (logHigh - c.Mean) / c.s
	if b-c.s >= surelyBelow && !c.plain.above {
		between := float64(c.mean*(1-c.shifted.chance)) - float64(low*(1-c.plain.chance))
		if math.Ldexp(most, -int(0.72*min(b*b, 1e4))) < math.Ldexp(between, -54) { // Φ(−b) < e^(−b²/2) is beyond: too little to add
			return c.Weight * min(most, between)
		}
	}
	return c.within(most, b)
}

// surelyBelow is from how many standard deviations on the chance of lying below is 1 to all
// digits: Φ(−8.3) is less than half a unit in its last place. Most caps are so high above most
// places, where the library takes long for what is beyond.
const surelyBelow = 8.3

// within is at of a cap that is b standard deviations above the mean, whatever b is.
func (c *cappings) within(most, b float64) float64 {
	low := c.Offset
	below, beyond := c.bothSides(b)
	between := float64(c.mean*c.shifted.upTo(c.bothSides(b-c.s))) - float64(low*c.plain.upTo(below, beyond))
	return c.Weight * min(most, max(0, between)+float64(most*beyond))
}

// tail is the chance of a standard normal below a number, or above it where that is greater
// than 0: where two are near 1, their complements tell them apart.
type tail struct {
	above  bool
	chance float64
}

func (t *tails) tailAt(a float64) tail {
	below, beyond := t.bothSides(a)
	if a > 0 {
		return tail{true, beyond}
	}
	return tail{false, below}
}

// upTo is the chance of what lies from the tail's number up to another, no lower one, by the
// chances below that and beyond it.
func (t tail) upTo(below, beyond float64) float64 {
	if t.above {
		return t.chance - beyond
	}
	return below - t.chance
}
