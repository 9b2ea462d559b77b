// Package jobsheet renders spray jobs: the sheet that goes with the applicator, on
// one page for each field as HTML that prints and as PDF; the screen; the
// features for viewers and receivers. It computes nothing but units, rounding and
// sums of what was typed in.
//
// Pages are laid out in millimetres and fit both ISO A4 and US Letter. What says
// something in colour says it in grey too: treat ground is hatched, closed ground
// is dark.
package jobsheet
