// Package season keeps a season of visits in one file: fields, the counts as they
// came in, byte for byte, the settings with the files that they name, which fields
// each visit was assessed with, and records of treatments. What can be worked out
// from them is worked out when asked; stops and zones stand in the file too, for map
// programs, as they were when the visit was added.
//
// The file is a GeoPackage 1.3 (OGC 12-128r17), a SQLite database that map
// programs open. Every addition is one transaction on disk before it is reported:
// a process that is killed leaves the file as it was before, and two that add at
// once wait for one another. No clock is written.
package season
