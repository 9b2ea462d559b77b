// Package jobsheet renders spray jobs: the sheet that goes with the applicator, as HTML
// that reflows on a phone and prints, and as PDF; the screen; the features for viewers
// and receivers. It computes nothing but units, rounding and sums of what was typed in.
//
// The page begins with plain sentences; the figures behind them, and the places of on
// and off, are folded below. The PDF has no tags, as its library writes none: the HTML is
// the sheet for whoever reads by ear. Its pages are laid out in millimetres and fit both
// ISO A4 and US Letter. What says something in colour says it in grey too: treat ground
// is hatched, closed ground is dark.
package jobsheet
