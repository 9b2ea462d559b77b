package figures

import "math"

const (
	leastInWords = 0.095 // is a tenth, and not 9 %
	nearlyAll    = 0.95  // and more is so called
	wordsOff     = 0.02  // of the whole, is the most that words may be off
)

// Part is [Units.Part] in English.
func Part(share float64) string { return Both.Part(share) }

// Part says how large a part of a whole is, in words: a fifth, two thirds, nearly all.
// The words are the nearest of those that there are, where they are off by no more than
// 2 % of the whole; other parts are said in whole percent. What is no part, or all, is
// said of that alone.
func (u Units) Part(share float64) string {
	if words := u.inWords(share); words != "" {
		return words
	}
	return u.Whole(share)
}

// Parts are [Units.Part] of several that are set beside one another: where one of them
// has to be said in percent, the others are so too, but for hardly any and nearly all.
func (u Units) Parts(shares ...float64) []string {
	said, percent := make([]string, len(shares)), false
	for i, share := range shares {
		said[i] = u.inWords(share)
		percent = percent || said[i] == ""
	}
	for i, share := range shares {
		if said[i] == "" || percent && share >= leastInWords && share <= nearlyAll {
			said[i] = u.Whole(share)
		}
	}
	return said
}

// inWords is a part in words; "" where there are none for it.
func (u Units) inWords(share float64) string {
	switch {
	case math.IsNaN(share):
		return u.Text("a part")
	case share <= 0:
		return u.Text("none")
	case share < 0.02:
		return u.Text("hardly any")
	case share >= 1:
		return u.Text("all")
	case share > nearlyAll:
		return u.Text("nearly all")
	case share < leastInWords:
		return ""
	}
	named := []struct {
		share float64
		words string
	}{
		{1. / 10, "a tenth"}, {1. / 7, "a seventh"}, {1. / 6, "a sixth"}, {1. / 5, "a fifth"},
		{1. / 4, "a quarter"}, {1. / 3, "a third"}, {2. / 5, "two fifths"}, {1. / 2, "half"}, {3. / 5, "three fifths"},
		{2. / 3, "two thirds"}, {3. / 4, "three quarters"}, {4. / 5, "four fifths"}, {9. / 10, "nine tenths"},
	}
	best := named[0]
	for _, n := range named[1:] {
		if math.Abs(n.share-share) < math.Abs(best.share-share) {
			best = n
		}
	}
	const rounding = 1e-12
	if math.Abs(best.share-share) > wordsOff+rounding {
		return ""
	}
	return u.Text(best.words)
}
