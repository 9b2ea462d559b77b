// Package plan says where to stop in a field and in which order to walk: stops
// that cover its ground evenly, away from the edge and from ground to be kept
// off, and a short way through them.
//
// Everything is computed in metres in the frame of the field, made from its
// boundary alone; positions come back in degrees. Random choices come from a
// seed, so a plan can be made again.
package plan
