package fieldstats

import (
	"math"

	"github.com/geocoris/geocoris/internal/stat"
)

// A Proportion is a share of units, 0 to 1, with its interval.
type Proportion struct {
	Units, Hits  float64
	Share        float64
	DesignEffect float64 // how many units count for one, since those of a stop are alike; 1 or above, NaN where not given
	Interval     Interval
}

// AtOrAbove is the share of units at or above the tally; ok is false where a stop
// does not tell.
func (s Settings) AtOrAbove(stops []Stop) (p Proportion, ok bool) {
	return s.proportion(stops, func(s Stop) float64 { return s.Hits })
}

// InfestedUnits is the share of units with anything; ok is false where a stop does
// not tell.
func (s Settings) InfestedUnits(stops []Stop) (p Proportion, ok bool) {
	return s.proportion(stops, func(s Stop) float64 { return s.Infested })
}

// InfestedStops is the share of stops at which anything was found.
func (s Settings) InfestedStops(stops []Stop) Proportion {
	p := Proportion{Units: float64(len(stops)), DesignEffect: 1}
	for _, stop := range stops {
		if stop.Found {
			p.Hits++
		}
	}
	p.Share = p.Hits / p.Units
	p.Interval = Wilson(p.Hits, p.Units, s.level())
	return p
}

// proportion pools units over stops. Its interval is Wilson's at the number of
// units that they are worth: divided by the design effect of shares over clusters
// (Rao & Scott 1992, Biometrics 48:577–585). Where all units have it, or none, no
// stop differs and the effect cannot be seen: each stop then counts as one unit.
// Fewer than [LeastStops] stops tell neither effect nor interval.
func (s Settings) proportion(stops []Stop, hits func(Stop) float64) (p Proportion, ok bool) {
	for _, stop := range stops {
		h := hits(stop)
		if math.IsNaN(h) {
			return Proportion{}, false
		}
		p.Hits, p.Units = p.Hits+h, p.Units+stop.Units
	}
	p.Share = p.Hits / p.Units
	p.DesignEffect = designEffect(stops, p, hits)
	p.Interval = Wilson(p.Hits/p.DesignEffect, p.Units/p.DesignEffect, s.level())
	return p, p.Units > 0
}

// designEffect is that of a pooled share over stops ([stat.DesignEffect]), of which one
// unit has the variance share·(1−share). It is the units of a stop where the share is 0
// or 1, NaN for fewer than [LeastStops] stops.
func designEffect(stops []Stop, p Proportion, hits func(Stop) float64) float64 {
	if len(stops) < LeastStops {
		return math.NaN()
	}
	expected := p.Units * p.Share * (1 - p.Share)
	if !(expected > 0) {
		return max(1, p.Units/float64(len(stops)))
	}
	clusters := make([]stat.Cluster, len(stops))
	for i, stop := range stops {
		clusters[i] = stat.Cluster{Total: hits(stop), Units: stop.Units}
	}
	return stat.DesignEffect(clusters, expected)
}
