// Package geo holds what a field map is made of before any number is
// interpolated: fields with their boundaries, the metric frame of a field,
// plane areas and containment, and the format-neutral feature that every
// reader yields and every writer takes.
//
// Two coordinate spaces occur, and names tell them apart. Longitude and
// latitude in degrees on WGS 84, in that order, are called lonlat. Metres east
// and north in a field's [Frame] are called xy. No function takes a mixture.
package geo
