package geofile

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// geometry reads one geometry element; known is false for any other, which is
// passed over. A MultiGeometry of nothing is nil.
func (k *kmlReader) geometry(start xml.StartElement, depth int) (g orb.Geometry, known bool, err error) {
	switch start.Name.Local {
	case "Point":
		line, err := k.line(depth)
		if err == nil && len(line) != 1 {
			err = &Error{Msg: fmt.Sprintf("a Point with %d positions", len(line))}
		}
		if err != nil {
			return nil, true, err
		}
		return line[0], true, nil
	case "LineString", "LinearRing":
		line, err := k.line(depth)
		if err == nil {
			if short := checkCount(line, len(line), 2); short != nil {
				err = short
			}
		}
		return line, true, err
	case "Polygon":
		p, err := k.polygon(depth)
		return p, true, err
	case "MultiGeometry":
		c := orb.Collection{}
		err := k.eachChild(depth-1, func(e xml.StartElement) error {
			part, _, err := k.geometry(e, depth-1)
			if part != nil {
				c = append(c, part)
			}
			return err
		})
		if len(c) == 0 {
			return nil, true, err
		}
		return c, true, err
	}
	return nil, false, k.Skip()
}

// line reads the coordinates below a Point, LineString or LinearRing.
func (k *kmlReader) line(depth int) (orb.LineString, error) {
	var line orb.LineString
	err := k.eachChild(depth-1, func(e xml.StartElement) error {
		if e.Name.Local != "coordinates" {
			return k.Skip()
		}
		text, err := k.text()
		if err != nil {
			return err
		}
		line, err = k.coordinates(text)
		return err
	})
	return line, err
}

func (k *kmlReader) polygon(depth int) (orb.Polygon, error) {
	var outer, inner []orb.Ring
	err := k.eachChild(depth-1, func(e xml.StartElement) error {
		to := &inner
		switch e.Name.Local {
		case "outerBoundaryIs":
			to = &outer
		case "innerBoundaryIs":
		default:
			return k.Skip()
		}
		return k.eachChild(depth-2, func(r xml.StartElement) error {
			if r.Name.Local != "LinearRing" {
				return k.Skip()
			}
			line, err := k.line(depth - 3)
			if err != nil {
				return err
			}
			*to = append(*to, orb.Ring(line))
			if err := checkRing(orb.Ring(line)); err != nil {
				return err
			}
			return nil
		})
	})
	if err == nil && len(outer) != 1 {
		err = &Error{Msg: fmt.Sprintf("a Polygon with %d outer boundaries", len(outer)), Hint: "draw the outline anew"}
	}
	return append(outer, inner...), err
}

// coordinates reads tuples of longitude, latitude and perhaps height, parted by
// white space. Blanks round a comma break the rule but are common; where they
// make it doubtful which numbers belong together, there come out tuples of more
// than three, which are refused.
func (k *kmlReader) coordinates(text string) (orb.LineString, error) {
	parts := strings.Split(text, ",")
	for i := range parts[:len(parts)-1] {
		parts[i] = strings.TrimRight(parts[i], " \t\r\n")
		parts[i+1] = strings.TrimLeft(parts[i+1], " \t\r\n")
	}
	tuples := strings.Fields(strings.Join(parts, ","))
	if k.vertices += len(tuples); k.vertices > k.limits.Vertices {
		return nil, &Error{Msg: fmt.Sprintf("more than %d positions", k.limits.Vertices)}
	}
	line := make(orb.LineString, len(tuples))
	for i, tuple := range tuples {
		numbers := strings.Split(tuple, ",")
		if len(numbers) < 2 || len(numbers) > 3 {
			return nil, &Error{Msg: fmt.Sprintf("%q is no position", tuple), Hint: "write longitude,latitude without blanks, and a blank between positions"}
		}
		for axis := range 2 {
			v, err := strconv.ParseFloat(numbers[axis], 64)
			if err != nil {
				return nil, &Error{Msg: fmt.Sprintf("%q in the position %q is no number", numbers[axis], tuple)}
			}
			line[i][axis] = v
		}
		if len(numbers) == 3 {
			k.heights++
		}
		if err := checkPosition(line[i]); err != nil {
			return nil, err
		}
	}
	return line, nil
}
