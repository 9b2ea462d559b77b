// Package fieldstats says what a field's stops say of the field as a whole: how
// high, how sure, how scattered, whether near stops are alike, and whether one
// stop or the edge carries it all.
//
// Values are of the statistic that is mapped (counts per unit, or % of units),
// positions and lengths are metres. Units of one stop are alike, so the stop is
// the cluster: it is resampled whole and counts once. Whatever is drawn at random
// comes from a seeded generator, so the same stops and seed give the same figures.
// A figure that cannot be known is NaN, never 0.
package fieldstats
