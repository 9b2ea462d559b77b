package sampling

import (
	"math"

	"github.com/geocoris/geocoris/geo"
)

// Spread says which stops lie apart. It returns for each position, in degrees,
// the number of the cluster it belongs to, counted from 0 in the order of first
// appearance: a position nearer than apart metres to the first one of an earlier
// cluster belongs to that. Positions that are not finite lie apart from all.
func Spread(lonlat [][2]float64, apart float64) []int {
	clusters := make([]int, len(lonlat))
	var first [][2]float64
	for i, p := range lonlat {
		clusters[i] = nearCluster(first, p, apart)
		if clusters[i] == len(first) {
			first = append(first, p)
		}
	}
	return clusters
}

func nearCluster(first [][2]float64, p [2]float64, apart float64) int {
	frame, err := geo.NewFrame(p)
	if err != nil {
		return len(first)
	}
	for c, q := range first {
		if xy := frame.Forward(q); math.Hypot(xy[0], xy[1]) < apart {
			return c
		}
	}
	return len(first)
}
