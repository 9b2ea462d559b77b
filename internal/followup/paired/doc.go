// Package paired asks what two visits to the same ground say about change: which
// stops belong together, whether the change stands out from the noise, how fast
// the pest grew, and whether a treatment worked.
//
// Values are counts per unit, never negative, or shares in %; positions are metres
// in the field's frame; rates are per day. Whatever is drawn at random is drawn from
// a generator seeded by the caller, so the same input and seed give the same
// figures.
package paired
