// Package sampling answers, while somebody counts: may I stop? It holds the stop
// lines of sequential plans, evaluates counts stop by stop, and simulates what a
// plan does.
//
// Counts are totals of insects (or of units at or above a tally) over a number
// of units: leaves, plants, tillers. Means are per unit, shares are parts of 1.
// Places, where they are given, are metres in the frame of the field, and say no
// more than whether the walk has crossed it.
//
// Wald's lines assume that units are drawn independently. Units of one stop are
// not, so a stop is one cluster: a line is asked after whole stops only, never
// before fifteen of them, and at the number of units that the scatter between stops
// says they are worth (see [Tally]). From four stops on, as the plans were
// published, a quarter to three fifths of patchy fields and walked gradients at the high value
// were called under; so it is 0 to 15 % (TestTallyOnPatches). An edge that falls off
// within 20 to 60 m is not seen by stops inside it: up to a third of such fields are
// called under, and stops along the edge must tell of it.
package sampling
