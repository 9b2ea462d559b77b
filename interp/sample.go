package interp

// A Sample is one value measured at a point of the plane.
type Sample struct {
	X, Y  float64 // metres
	Value float64
	// Weight is the effort behind Value (leaves, plants, traps). Zero counts
	// as one. It decides how coincident samples are pooled, nothing else.
	Weight float64
	// Share is the part of a sample's say, above 0, in what inverse distance weighting
	// makes of places other than its own: less than 1 where several crowd and tell of one
	// place. Zero counts as one. Pooled samples add theirs up.
	Share float64
}

// A Predictor gives the value expected at a place. Predict is safe for
// concurrent use; it returns NaN where the predictor has nothing to say, for
// instance beyond a search radius or at a place that is not finite.
type Predictor interface {
	Predict(x, y float64) float64
}

// A DistancePredictor knows how far the evidence is: the distance in metres
// from a place to the nearest sample.
type DistancePredictor interface {
	Predictor
	PredictWithDistance(x, y float64) (value, distance float64)
}
