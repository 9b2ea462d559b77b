// Package demo carries the demonstration data of geocoris inside the program:
// two fields that touch (field.geojson) and three weekly surveys of them
// (week1.csv, week2.csv, week3.csv). Everything in it is invented; README.md
// beside this file says how, and which rows of the third week are faulty on
// purpose.
//
// Positions are longitude and latitude in degrees (WGS 84), counts are aphids
// summed over the leaves looked at, times carry their offset from UTC.
package demo

import (
	"embed"
	"io/fs"
)

//go:embed README.md field.geojson week1.csv week2.csv week3.csv
var files embed.FS

// Files returns the demonstration data as a read-only file system of five
// files at its root: README.md, field.geojson, week1.csv, week2.csv and
// week3.csv.
func Files() fs.FS { return files }
