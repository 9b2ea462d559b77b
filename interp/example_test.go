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

// Two counts at one stop are one stop: the mean over all leaves.
func ExamplePool() {
	for _, s := range interp.Pool([]interp.Sample{
		{X: 10, Y: 20, Value: 6, Weight: 10},
		{X: 50, Y: 20, Value: 8, Weight: 10},
		{X: 10, Y: 20, Value: 0, Weight: 20},
	}) {
		fmt.Printf("%g at %g, %g from %g leaves\n", s.Value, s.X, s.Y, s.Weight)
	}
	// Output:
	// 2 at 10, 20 from 30 leaves
	// 8 at 50, 20 from 10 leaves
}

func ExampleFillWithDistance() {
	p, err := interp.IDW{Radius: 60}.Fit(corners[:1])
	if err != nil {
		fmt.Println(err)
		return
	}
	lattice := interp.Lattice{Cell: 50, Cols: 3, Rows: 1}
	value, distance, err := interp.FillWithDistance(context.Background(), p, lattice, interp.FillSettings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(value.Values, distance.Values)
	// Output: [10 10 NaN] [0 50 100]
}

// Four corners say little of each other: left out, they are predicted as 60, 84,
// 94 and 22, hardly better than by the mean of the other three.
func ExampleNewScore() {
	left, err := interp.IDW{}.LeaveOneOut(corners)
	if err != nil {
		fmt.Println(err)
		return
	}
	score := interp.NewScore(corners, left)
	fmt.Printf("off by %.0f, skill %.2f\n", score.RMSE, score.Skill)
	// Output: off by 105, skill 0.03
}

func ExampleTune() {
	var slope []interp.Sample // 12 by 12 stops on a tilted plane
	for i := range 144 {
		x, y := float64(i%12), float64(i/12)
		slope = append(slope, interp.Sample{X: x, Y: y, Value: 3*x + y})
	}
	best, score, err := interp.Tune(slope, interp.TuneCandidates(len(slope)))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("power %g over %d, skill %.2f\n", best.Power, best.Neighbors, score.Skill)
	// Output: power 4 over 6, skill 1.00
}

// Seven samples of a textbook (Isaaks & Srivastava 1989).
func ExampleOrdinaryKriging_Fit() {
	samples := []interp.Sample{
		{X: 61, Y: 139, Value: 477}, {X: 63, Y: 140, Value: 696}, {X: 64, Y: 129, Value: 227}, {X: 68, Y: 128, Value: 646},
		{X: 71, Y: 140, Value: 606}, {X: 73, Y: 141, Value: 791}, {X: 75, Y: 128, Value: 783},
	}
	model := interp.VariogramModel{Kind: interp.Exponential, PartialSill: 10, Range: 1 / 0.3}
	p, err := interp.OrdinaryKriging{Model: model}.Fit(samples)
	if err != nil {
		fmt.Println(err)
		return
	}
	value, variance := p.PredictWithVariance(65, 137)
	fmt.Printf("%.1f, variance %.2f\n", value, variance)
	// Output: 592.7, variance 8.96
}

// Twenty leaves a stop: the chance that the ground between is over 40 per leaf.
func ExampleChanceModel_Fit() {
	counts := []interp.Count{
		{X: 0, Y: 0, Mean: 90, Units: 20}, {X: 100, Y: 0, Mean: 70, Units: 20}, {X: 200, Y: 0, Mean: 12, Units: 20}, {X: 300, Y: 0, Mean: 2, Units: 20},
		{X: 0, Y: 100, Mean: 60, Units: 20}, {X: 100, Y: 100, Mean: 25, Units: 20}, {X: 200, Y: 100, Mean: 5, Units: 20}, {X: 300, Y: 100, Mean: 0, Units: 20},
	}
	c, err := interp.ChanceModel{Level: 40}.Fit(counts)
	if err != nil {
		fmt.Println(err)
		return
	}
	over := c.Over(40)
	for _, x := range []float64{50, 150, 250} {
		fmt.Printf("%.0f %%\n", 100*over.Predict(x, 0))
	}
	// Output:
	// 97 %
	// 22 %
	// 1 %
}
