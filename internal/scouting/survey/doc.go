// Package survey turns tables of counts into stops: rows are read with their
// line numbers, columns are recognised by their headers, each row is held to what a
// count must be, and the rows of one stop are put together.
//
// A row is a leaf, a plant or a whole stop:
//
//   - leaves is the effort: on how many units (leaves, or stems, heads, sweeps …)
//     the row was counted. Where no column tells, a row is one unit; where one
//     does, a blank in it is refused, unless the row names its leaf.
//   - count is the total on all units of the row, never a mean. A column named as
//     a mean (mean_per_leaf and its synonyms) is taken times leaves instead.
//   - groups times group_size stands for count where that is blank or absent.
//   - infested is on how many of the units anything was found.
//   - plants is how many plants a row is of, and plants_over how many of them were at or
//     above what at_or_above says: a tally, or a sign such as honeydew.
//   - honeydew and colonies are how many plants show them, or yes and no of one plant;
//     predators and mummies are numbers, or words, that are kept as they are.
//
// A stop's mean is Σ count / Σ leaves over its rows.
//
// No row vanishes. A row that cannot be used is refused with file, line, column,
// value and how to fix it, and the tally of rows read, used and set aside always adds
// up; lines without a filled cell are no rows. A blank is not a zero. A value that
// can be read in two ways is refused, or doubted, or named in the notes.
//
// Days and times are those of the place: times in UTC are taken there by an offset,
// or by the sun.
//
// Positions are decimal degrees, longitude and latitude on WGS 84; the package
// knows nothing of fields, and of metres only the distance between two rows of
// one stop. Synonyms of headers are common practice, no source.
package survey
