package features

import (
	"math"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/geocoris/geocoris/internal/engine"
)

// How many features a page has.
const (
	usualLimit = 100
	mostLimit  = 10000
)

func windowOf(query url.Values) (w engine.SeasonWindow, err error) {
	if w.Limit, err = limitOf(query); err != nil {
		return w, err
	}
	if query.Has("after") {
		if w.After, err = strconv.ParseInt(query.Get("after"), 10, 64); err != nil || w.After < 0 {
			return w, invalid("after: want a number of 0 or more, as the link to the next page has it")
		}
	}
	if query.Has("bbox") {
		if w.Boxes, err = boxesOf(query.Get("bbox")); err != nil {
			return w, err
		}
	}
	if query.Has("datetime") {
		if w.From, w.To, err = daysOf(query.Get("datetime")); err != nil {
			return w, err
		}
	}
	return w, nil
}

// limitOf is at most mostLimit; what is no whole number of 1 or more is an error.
func limitOf(query url.Values) (int, error) {
	if !query.Has("limit") {
		return usualLimit, nil
	}
	text := query.Get("limit")
	if text == "" || strings.Trim(text, "0123456789") != "" || strings.Trim(text, "0") == "" {
		return 0, invalid("limit: want a whole number from 1 to " + strconv.Itoa(mostLimit))
	}
	n, err := strconv.Atoi(text)
	if err != nil || n > mostLimit { // more digits than a number has are many
		return mostLimit, nil
	}
	return n, nil
}

// boxesOf reads four numbers, or six with heights, which no feature has; where the west lies
// east of the east the box goes over the antimeridian and is two.
func boxesOf(text string) ([][4]float64, error) {
	var v []float64
	for part := range strings.SplitSeq(text, ",") {
		n, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return nil, invalid("bbox: " + strconv.Quote(part) + " is no number")
		}
		v = append(v, n)
	}
	if len(v) == 6 {
		if v[2] > v[5] {
			return nil, invalid("bbox: the lower height is above the upper")
		}
		v = []float64{v[0], v[1], v[3], v[4]}
	}
	if len(v) != 4 {
		return nil, invalid("bbox: want four numbers, west, south, east, north, or six with heights")
	}
	west, south, east, north := v[0], v[1], v[2], v[3]
	switch {
	case math.Abs(west) > 180 || math.Abs(east) > 180 || math.Abs(south) > 90 || math.Abs(north) > 90:
		return nil, invalid("bbox: want degrees of longitude from -180 to 180 and of latitude from -90 to 90")
	case south > north:
		return nil, invalid("bbox: the south lies north of the north")
	case west > east:
		return [][4]float64{{west, south, 180, north}, {-180, south, east, north}}, nil
	}
	return [][4]float64{{west, south, east, north}}, nil
}

const open = ".."

// daysOf reads a day or a time, or an interval of two, one of which may be open (RFC 3339,
// 5.6; ".." or nothing is open).
func daysOf(text string) (from, to string, err error) {
	first, last, interval := strings.Cut(text, "/")
	if !interval {
		day, _, err := dayOf(text)
		return day, day, err
	}
	if isOpen(first) && isOpen(last) {
		return "", "", invalid("datetime: one end of an interval may be open, not both")
	}
	var begin, end time.Time
	if !isOpen(first) {
		if from, begin, err = dayOf(first); err != nil {
			return "", "", err
		}
	}
	if !isOpen(last) {
		if to, end, err = dayOf(last); err != nil {
			return "", "", err
		}
	}
	if !isOpen(first) && !isOpen(last) && end.Before(begin) {
		return "", "", invalid("datetime: the interval ends before it begins")
	}
	return from, to, nil
}

func isOpen(text string) bool { return text == "" || text == open }

func dayOf(text string) (day string, at time.Time, err error) {
	for _, layout := range []string{time.RFC3339, time.DateOnly} {
		if at, err = time.Parse(layout, text); err == nil {
			at = at.UTC()
			return at.Format(time.DateOnly), at, nil
		}
	}
	return "", at, invalid("datetime: " + strconv.Quote(text) + " is no day such as 2031-08-14, nor a time such as 2031-08-14T06:00:00Z")
}
