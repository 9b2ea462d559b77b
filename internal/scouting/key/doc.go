// Package key tells aphids on sorghum apart by marks seen through a hand lens on a
// wingless adult: dark feet, antennae, cornicles (the two tubes at the rear end),
// head, patches, stripe, spines. Body colour and place on the plant are taken in
// and weighed, but never decide.
//
// Marks are from Bowling et al. 2016 and the keys of Oklahoma State and Louisiana
// State extension. What these name as the mark of one species (a stripe, spines,
// a patch at the cornicles, a dark head) is taken as absent from the others;
// where they are silent otherwise, any answer fits.
package key
