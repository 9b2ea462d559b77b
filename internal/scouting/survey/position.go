package survey

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// missingPosition checks that positions are given in one way: degrees, else well-
// known text, else eastings and northings of a UTM zone on WGS 84, which the
// table cannot tell itself.
func (l *layout) missingPosition(t table, zone string) (missing []string, err error) {
	l.takeGrid(t, zone)
	switch {
	case l.at[colLongitude] >= 0 && l.at[colLatitude] >= 0:
		l.at[colWKT], l.at[colEasting], l.at[colNorthing] = -1, -1, -1
	case l.at[colWKT] >= 0:
		l.at[colEasting], l.at[colNorthing] = -1, -1
	case l.at[colEasting] >= 0 && l.at[colNorthing] >= 0:
		if zone == "" {
			return nil, fmt.Errorf("%s: columns %s and %s need their zone: give --utm, such as --utm 14N",
				t.File, quote(t.Header[l.at[colEasting]]), quote(t.Header[l.at[colNorthing]]))
		}
		utm, err := ParseUTM(zone)
		l.utm = &utm
		return nil, err
	default:
		for _, c := range []column{colLongitude, colLatitude} {
			if l.at[c] < 0 {
				missing = append(missing, c.String())
			}
		}
	}
	return missing, nil
}

// takeGrid takes columns x and y for easting and northing where a zone is given for them
// and nothing else is in it: tables of programs for maps call either so.
func (l *layout) takeGrid(t table, zone string) {
	x, y := l.at[colLongitude], l.at[colLatitude]
	if zone == "" || x < 0 || y < 0 || l.at[colEasting] >= 0 || l.at[colNorthing] >= 0 || same(t.Header[x]) != "x" || same(t.Header[y]) != "y" {
		return
	}
	l.at[colEasting], l.at[colNorthing] = x, y
	l.at[colLongitude], l.at[colLatitude] = -1, -1
}

// ParseUTM reads a zone of the UTM grid with N or S for the hemisphere, such as
// 14N. Letters of latitude bands are not meant.
func ParseUTM(zone string) (geo.UTM, error) {
	text := strings.TrimSpace(zone)
	half := text[max(0, len(text)-1):]
	digits := trimmedRight(strings.TrimSuffix(text, half))
	if !isDigits(digits) || len(digits) > 2 || !strings.Contains("NnSs", half) {
		return geo.UTM{}, fmt.Errorf("utm zone %q: want a number of 1 to 60 and N or S for the hemisphere, such as 14N", zone)
	}
	return geo.NewUTM(small(digits), strings.EqualFold(half, "N"))
}

// position reads where the row was counted, and refuses what is no place.
func (rd *reader) position() (lon, lat float64) {
	var ok bool
	at := colLatitude
	switch {
	case rd.has(colWKT):
		at = colWKT
		lon, lat, ok = rd.wellKnown()
	case rd.has(colEasting):
		at = colEasting
		lon, lat, ok = rd.projected()
	default:
		var okLon, okLat bool
		lon, okLon = rd.angle(colLongitude, "EW")
		lat, okLat = rd.angle(colLatitude, "NS")
		ok = okLon && okLat
	}
	if ok {
		lon, lat = rd.offered(lon, lat)
		rd.checkPlace(at, lon, lat)
	}
	return lon, lat
}

func (rd *reader) checkPlace(c column, lon, lat float64) {
	swapped := math.Abs(lon) <= 90 && math.Abs(lat) <= 180
	longitude := c
	if c == colLatitude {
		longitude = colLongitude
	}
	switch {
	case math.Abs(lat) > 360 && math.Abs(lon) > 360:
		rd.refuse(c, "is no latitude: degrees go to 90", "these look like metres: give their zone, such as --utm 14N")
	case math.Abs(lat) > 90 && swapped:
		rd.refuse(c, "is no latitude: degrees go to 90", "latitude and longitude may be swapped")
	case !(math.Abs(lat) <= 90):
		rd.refuse(c, "is no latitude: degrees go to 90", "write decimal degrees")
	case !(math.Abs(lon) <= 180):
		rd.refuse(longitude, "is no longitude: degrees go to 180", "write decimal degrees")
	case lon == 0 && lat == 0:
		rd.refuse(longitude, "longitude and latitude are both 0: the device had no fix", "look the place up")
	}
}

// angle reads degrees in any of the usual ways.
func (rd *reader) angle(c column, letters string) (float64, bool) {
	if rd.at[c] >= len(rd.row.Cells) {
		return rd.number(c) // says that the row ends before
	}
	var v float64
	err := rd.oddity(c)
	if err == nil && rd.table.parted.holds(rd.at[c]) {
		v, err = halfOf(rd.text(c), letters)
	} else if err == nil && rd.table.native(rd.row.Line, rd.at[c]) {
		v, err = rd.parseCell(c)
	} else if err == nil {
		v, _, err = rd.parseAngle(rd.text(c), letters)
	}
	if err != nil {
		rd.refuse(c, err.Error(), fixOf(err, c))
	}
	return v, err == nil
}

// halfOf reads an angle that stood beside the other one in a cell, which tells nothing of how
// the table writes its decimals.
func halfOf(text, letters string) (v float64, err error) {
	switch v, _, err = (decimals{}).parseAngle(text, letters); {
	case err == nil || errors.Is(err, errBlank):
		return v, err
	case strings.Contains(text, "O") && strings.ContainsAny(text, "NSns") && strings.ContainsAny(text, "0123456789"):
		return 0, errOst
	}
	return 0, errNoPair
}

// sexagesimal reports whether some position is in degrees and minutes.
func (l *layout) sexagesimal(t table) bool {
	for _, r := range t.Rows {
		for _, c := range [2]column{colLongitude, colLatitude} {
			text := l.text(r, c)
			if isPlain(text) {
				continue
			}
			letters := "EW"
			if c == colLatitude {
				letters = "NS"
			}
			d := l.decimals
			if t.parted.holds(l.at[c]) {
				d = decimals{}
			}
			if _, minutes, err := d.parseAngle(text, letters); err == nil && minutes {
				return true
			}
		}
	}
	return false
}

var pointText = pattern(`(?i)^\s*(?:SRID=\d+;)?\s*POINT\s*(?:ZM|Z|M)?\s*\(\s*(\S+)\s+(\S+)(?:\s+\S+){0,2}\s*\)\s*$`)

var errWKT = errors.New("is no point in well-known text, such as POINT (-101.6 35.9)")

// wellKnown reads a point in well-known text, longitude first.
func (rd *reader) wellKnown() (lon, lat float64, ok bool) {
	m := pointText().FindStringSubmatch(rd.text(colWKT))
	err := errWKT
	if m != nil {
		var errLon, errLat error
		lon, errLon = strconv.ParseFloat(m[1], 64)
		lat, errLat = strconv.ParseFloat(m[2], 64)
		if errLon == nil && errLat == nil {
			return lon, lat, true
		}
	}
	rd.refuse(colWKT, err.Error(), "write longitude before latitude")
	return 0, 0, false
}

// projected reads an easting and a northing.
func (rd *reader) projected() (lon, lat float64, ok bool) {
	easting, okEasting := rd.number(colEasting)
	northing, okNorthing := rd.number(colNorthing)
	if !okEasting || !okNorthing {
		return 0, 0, false
	}
	// The grid's own reach: beyond, the columns hold something else.
	if easting < 100_000 || easting > 900_000 || northing < 0 || northing > 10_000_000 {
		rd.refuse(colEasting, fmt.Sprintf("%g, %g is no easting and northing of UTM in metres", easting, northing), "check the columns and the zone")
		return 0, 0, false
	}
	p := rd.utm.Inverse(orb.Point{easting, northing})
	return p[0], p[1], true
}
