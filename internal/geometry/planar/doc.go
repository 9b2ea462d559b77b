// Package planar cuts the plane into faces along given rings and puts faces
// together again. Everything polygonal in this project is one of its few steps:
// arrange (node the rings and walk the faces), label the faces by a predicate,
// dissolve (drop the lines between equal labels). Repairing an invalid boundary,
// growing a patch by a margin and tiling a field with zones differ only in the
// predicate.
//
// What comes out is a coverage: labelled areas that share their border arcs, so
// that neighbours have the same vertices whatever is later done to an arc.
//
// Coordinates are plane ones, metres near the origin or whole lattice steps;
// never degrees. Lines are noded by snap rounding on a fine lattice with exact
// predicates, so that no input is unlucky. simplefeatures says whether polygons are
// valid, as somebody else's opinion.
package planar
