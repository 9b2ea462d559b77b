// Package zones parts a field into ground to treat, to watch and clear ground.
//
// It takes a surface on the nodes of a lattice, cuts it at two levels, grows
// the treat ground by a margin, and lays the level lines over the field's
// boundary once. What comes out is a coverage: zones tile the field, their areas
// add up to it, and neighbours share every vertex, also after rounding.
//
// Doubt is resolved towards caution. Ground nobody has been near is never clear;
// small patches are only ever moved to the worse side, and no stop at or above
// a level lies in ground below it.
//
// Coordinates are metres in the field's frame.
package zones
