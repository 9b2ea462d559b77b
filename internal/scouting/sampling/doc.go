// Package sampling answers, while somebody counts: may I stop? It holds the stop
// lines of sequential plans, evaluates counts stop by stop, and simulates what a
// plan does.
//
// Counts are totals of insects (or of units at or above a tally) over a number
// of units: leaves, plants, tillers. Means are per unit, shares are parts of 1.
// Nothing here knows where a stop lies.
//
// Wald's lines assume that units are drawn independently. Units of one stop are
// not, so a stop is one cluster: a line is asked after whole stops only, never
// before four of them, and at the number of units that the scatter between stops
// says they are worth (see [Tally]).
//
// Measured on shares of 0.10 against 0.22 with nominal errors of 0.10, 10 units a
// stop, 2,000 walks (TestErrorsStayWithinTheNominalOnes, TestClustering): over at
// the low value and under at the high one are 0.03 and 0.05 for independent units.
// Where units of a stop correlate by 0.05 they are 0.08 and 0.12 taken as
// independent, 0.05 and 0.10 as clusters; by 0.2, 0.17 and 0.23 against 0.05 and
// 0.18, for twice the stops. So clusters hold the errors for slight correlation
// only: under a strong one a few stops cannot tell how much they differ.
package sampling
