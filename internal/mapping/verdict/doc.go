// Package verdict says what a field's stops and map amount to: no spray, look
// again on a day, spot spray, treat the whole field, or that more stops must
// settle it. The rules are the lines of one table, in table.go, each with its
// reason; the first line that holds decides, and what a line goes by is a setting.
//
// Values are of the statistic that is mapped, areas m², times days. Nothing is
// advised from a map without skill, from stops on the edge alone, or over ground
// that nobody has been near. What comes out is a recommendation: the label and
// the local extension service come first.
package verdict
