// Package taskdata writes spray prescriptions as ISO 11783-10 task data, versions
// 4.3 and 3.3: fields with their boundaries and, where asked for in
// version 4, the A–B line of their passes; and for each field a task that sprays its treat zone at one rate and all
// else at none, by polygons or by a grid of either type.
//
// Coordinates are degrees on WGS 84; rates are volumes for an area, data
// dictionary entity 1 (ISO 11783-11), in steps of 0.01 mm³/m², so that 1 L/ha is
// 10,000. The codes for ground outside of all zones, outside of the field and
// without a position all have the rate 0.
//
// Written from the published letters and ranges of the format; the text of the
// standard itself was not to be had.
package taskdata
