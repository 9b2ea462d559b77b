package handoff

import (
	"errors"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

var errAntimeridian = errors.New("the job reaches over longitude 180, which its files cannot hold: draw the field some 100 m short of it")

// overAntimeridian refuses places in metres of which some lie on the other side of
// longitude 180, where the frame's longitudes jump and files take them for the way round
// the earth.
func (j *Job) overAntimeridian(ground orb.MultiPolygon, more ...orb.Point) error {
	west, east := math.Inf(1), math.Inf(-1)
	see := func(xy orb.Point) {
		lon := j.place(xy)[0]
		west, east = min(west, lon), max(east, lon)
	}
	for _, polygon := range ground {
		for _, ring := range polygon {
			for _, p := range ring {
				see(p)
			}
		}
	}
	for _, p := range more {
		see(p)
	}
	if east-west > 180 {
		return errAntimeridian
	}
	return nil
}

// reaches reports as an error that field, swaths, passes or their line lie over it.
func (j *Job) reaches() error {
	places := []orb.Point{j.Plan.A, j.Plan.B}
	for _, pass := range j.Plan.Passes {
		for _, s := range pass.Switches {
			places = append(places, s.Thrown)
		}
	}
	return j.overAntimeridian(slices.Concat(j.Swaths(), j.Ground.Field), places...)
}
