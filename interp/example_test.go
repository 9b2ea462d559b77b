package interp_test

import (
	"context"
	"fmt"

	"github.com/geocoris/geocoris/interp"
)

// Four traps on the corners of a square of 100 m.
var corners = []interp.Sample{
	{X: 0, Y: 0, Value: 10},
	{X: 100, Y: 0, Value: 50},
	{X: 0, Y: 100, Value: 0},
	{X: 100, Y: 100, Value: 200},
}

func ExampleIDW_Fit() {
	p, err := interp.IDW{Power: 2, Neighbors: interp.AllNeighbors}.Fit(corners)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f\n", p.Predict(25, 25))
	// Output: 27.9412
}

func ExampleFill() {
	p, err := interp.IDW{}.Fit(corners)
	if err != nil {
		fmt.Println(err)
		return
	}
	lattice := interp.Lattice{Cell: 50, Cols: 3, Rows: 3}
	grid, err := interp.Fill(context.Background(), p, lattice, interp.FillSettings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", grid.Values)
	// Output: [10.0 41.7 50.0 25.0 65.0 105.0 0.0 88.3 200.0]
}
