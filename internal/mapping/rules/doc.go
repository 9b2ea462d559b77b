// Package rules holds action thresholds as they were published, each bound to the
// statistic it was published for, and computes thresholds from costs and prices.
//
// Levels of a mean are in counts per unit, levels of a share in % of units. A rule
// is never turned into one of another statistic, and every level carries where it
// comes from: thresholds differ by region and year, and the local extension
// service and the label come first.
package rules

// Caution goes with every rule shown.
const Caution = "thresholds differ by region and year: the local extension service and the label come first"
