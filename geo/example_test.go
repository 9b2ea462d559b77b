package geo_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// An invented field of a quarter mile by a quarter mile, forty acres.
var forty = orb.MultiPolygon{{{
	{-101.202306048, 38.49818775}, {-101.197693952, 38.49818775},
	{-101.197693836, 38.501812204}, {-101.202306164, 38.501812204},
	{-101.202306048, 38.49818775},
}}}

func ExampleFrame() {
	frame, err := geo.FrameOf(forty)
	if err != nil {
		fmt.Println(err)
		return
	}
	xy := frame.Forward(orb.Point{-101.201, 38.501})
	fmt.Printf("%.2f m east, %.2f m north of the centre\n", xy[0], xy[1])
	lonlat := frame.Inverse(xy)
	fmt.Printf("%.7f, %.7f\n", lonlat.Lon(), lonlat.Lat())
	// Output:
	// -87.23 m east, 111.01 m north of the centre
	// -101.2010000, 38.5010000
}

func ExampleArea() {
	frame, err := geo.FrameOf(forty)
	if err != nil {
		fmt.Println(err)
		return
	}
	area := geo.Area(frame.ForwardPolygons(forty))
	fmt.Printf("%.4f ha, %.4f ac\n", area/geo.SquareMetresPerHectare, area/geo.SquareMetresPerAcre)
	// Output: 16.1874 ha, 40.0000 ac
}
