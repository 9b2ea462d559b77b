package survey

import (
	"math"
	"strconv"
	"time"
)

// serialTime leaves what is no serial number as it is.
func serialTime(cell string, from1904 bool) string {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil || v < 0 || v > 110_000 { // the year 2201
		return cell
	}
	at := instantOf(v, from1904).Round(time.Second)
	clock := "15:04"
	if at.Second() != 0 {
		clock = time.TimeOnly
	}
	switch {
	case v < 1:
		return at.Format(clock)
	case v == float64(int64(v)):
		return at.Format(time.DateOnly)
	}
	return at.Format("2006-01-02T" + clock)
}

// instantOf is the day and time of a spreadsheet's number: days after the last but one of
// 1899, as 1900 is held to have a 29th of February, or after the first of 1904.
func instantOf(serial float64, from1904 bool) time.Time {
	first := time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
	switch {
	case from1904:
		first = time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	case serial < 61: // before that day
		first = first.AddDate(0, 0, 1)
	}
	days, part := math.Modf(serial)
	return first.AddDate(0, 0, int(days)).Add(time.Duration(part * float64(24*time.Hour)))
}
