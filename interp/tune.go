package interp

import "fmt"

// tuneAllLimit is the number of samples up to which every sample at every place
// is tried: its cost grows with the square.
const tuneAllLimit = 5000

// TuneCandidates are the settings that [Tune] tries for n samples: powers 1 to 4
// over 6, 8, 12, 16 and all neighbours, as far as there are so many. The
// default comes first, so it wins a tie.
func TuneCandidates(n int) []IDW {
	candidates := []IDW{{Power: DefaultPower, Neighbors: DefaultNeighbors}}
	for _, k := range []int{DefaultNeighbors, 6, 8, 16, AllNeighbors} {
		if k >= n-1 || k == AllNeighbors && n > tuneAllLimit {
			continue
		}
		for _, p := range []float64{DefaultPower, 1, 3, 4} {
			if c := (IDW{Power: p, Neighbors: k}); c != candidates[0] {
				candidates = append(candidates, c)
			}
		}
	}
	return candidates
}

// Tune returns the candidate with the least leave-one-out RMSE, the first of
// those that share it up to rounding, and its score. One that leaves samples
// without a prediction yields to one that leaves fewer. Errors are those of [IDW.Fit], and having
// no candidates or no two places to compare.
func Tune(samples []Sample, candidates []IDW) (IDW, Score, error) {
	var best IDW
	var score Score
	for i, c := range candidates {
		left, err := c.LeaveOneOut(samples)
		if err != nil {
			return IDW{}, Score{}, err
		}
		s := NewScore(samples, left)
		if i == 0 || s.N > score.N || s.N == score.N && s.RMSE < score.RMSE*(1-rounding) {
			best, score = c, s
		}
	}
	if score.N < 2 {
		return IDW{}, Score{}, fmt.Errorf("interp: nothing to tune by: %d candidates, %d samples with others around them", len(candidates), score.N)
	}
	return best, score, nil
}
