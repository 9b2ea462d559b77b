package planar

import "github.com/paulmach/orb"

// InsidePoint returns a place inside a polygon with ground, off its border.
func InsidePoint(polygon orb.Polygon) orb.Point { return insidePoint(polygon) }
