// Package observer says how far an eye can be trusted: estimated against exactly
// counted numbers of the same leaves, for each observer apart.
//
// People underestimate, more so as numbers rise, and each has a bias that is
// stable on the logarithmic scale (Izard & Dehaene 2008, Cognition 106:1221–1247).
// So the bias is a ratio, and the correction a line through logarithms to base
// 10. Numbers are insects on a leaf, 0 or more.
package observer
