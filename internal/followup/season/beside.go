package season

// A Beside is a field of which several visits tell on one day: a season that was merged of
// two keeps both, and whoever compares says which.
type Beside struct {
	Field  string
	Date   string // ISO 8601, or first/last day
	Visits []int64
}
