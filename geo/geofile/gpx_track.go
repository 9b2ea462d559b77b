package geofile

import (
	"encoding/xml"
	"strings"
	"time"

	"github.com/paulmach/orb"
)

// A Fix is where a receiver was at a moment.
type Fix struct {
	LonLat orb.Point // degrees
	At     time.Time // UTC
}

// Tracks are the segments of the tracks of a GPX file (GPX 1.1, trkseg) with the moments of
// their points; points without one are left out. Other formats have none.
func Tracks(from Source, limits Limits) (tracks [][]Fix, err error) {
	if !looksLikeGPX(from.Content[:min(len(from.Content), 4096)]) {
		return nil, nil
	}
	k, err := newXMLReader(from.Content, limits.withDefaults())
	if err != nil {
		return nil, err
	}
	g := gpxReader{kmlReader: k, timed: func(line orb.LineString, times []string) {
		var fixes []Fix
		for i, text := range times {
			if at, err := time.Parse(time.RFC3339, strings.TrimSpace(text)); err == nil {
				fixes = append(fixes, Fix{line[i], at.UTC()})
			}
		}
		tracks = append(tracks, fixes)
	}}
	if err := g.walkGPX(); err != nil {
		return nil, k.located(err, "save it anew as GPX")
	}
	return tracks, nil
}

// moment is the time of a point of a track, "" where it tells none.
func (g gpxReader) moment() (text string, err error) {
	err = g.eachChild(g.limits.Depth, func(c xml.StartElement) error {
		if c.Name.Local != "time" {
			return g.Skip()
		}
		text, err = g.text()
		return err
	})
	return text, err
}
