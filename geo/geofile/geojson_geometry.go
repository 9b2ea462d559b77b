package geofile

import (
	"fmt"

	"github.com/paulmach/orb"
)

// shape reads a geometry that is not part of another.
func (g *geoJSON) shape(o object) (orb.Geometry, error) {
	geometry, err := g.geometry(o)
	if err == nil {
		if empty := checkFilled(geometry); empty != nil {
			return nil, empty
		}
	}
	return geometry, err
}

func (g *geoJSON) geometry(o object) (orb.Geometry, error) {
	kind := o.text("type")
	if kind == "GeometryCollection" {
		return g.collection(o)
	}
	c, ok := o.get("coordinates")
	switch {
	case kind == "":
		return nil, &Error{Msg: "a geometry without a type"}
	case !ok:
		return nil, &Error{Msg: fmt.Sprintf("a %s without coordinates", kind)}
	}
	switch kind {
	case "Point":
		return as(g.point(c))
	case "MultiPoint":
		points, err := list(c, g.point)
		return as(orb.MultiPoint(points), err)
	case "LineString":
		return as(g.line(c))
	case "MultiLineString":
		lines, err := list(c, g.line)
		return as(orb.MultiLineString(lines), err)
	case "Polygon":
		return as(g.polygon(c))
	case "MultiPolygon":
		polygons, err := list(c, g.polygon)
		return as(orb.MultiPolygon(polygons), err)
	}
	return nil, &Error{Msg: fmt.Sprintf("%q is no type of geometry", kind)}
}

// as makes a typed result a geometry, nil where there was an error.
func as[G orb.Geometry](geometry G, err error) (orb.Geometry, error) {
	if err != nil {
		return nil, err
	}
	return geometry, nil
}

func (g *geoJSON) collection(o object) (orb.Geometry, error) {
	n, _ := o.get("geometries")
	items, ok := n.value.([]node)
	if !ok {
		return nil, &Error{Msg: "a GeometryCollection without a list of geometries"}
	}
	c := orb.Collection{}
	for _, item := range items {
		part, ok := item.value.(object)
		if !ok {
			return nil, &Error{Msg: "a GeometryCollection with something else among its geometries"}
		}
		geometry, err := g.geometry(part)
		if err != nil {
			return nil, g.at(item, 0, err)
		}
		c = append(c, geometry)
	}
	return c, nil
}

// list reads an array of what one reads.
func list[T any](n node, one func(node) (T, error)) ([]T, error) {
	items, ok := n.value.([]node)
	if !ok {
		return nil, &Error{Msg: "its coordinates are not nested as its type asks"}
	}
	out := make([]T, len(items))
	for i, item := range items {
		var err error
		if out[i], err = one(item); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (g *geoJSON) point(n node) (orb.Point, error) {
	v, ok := n.value.(numbers)
	if !ok || len(v) < 2 {
		return orb.Point{}, g.at(n, 0, &Error{Msg: "a position is not two numbers or more"})
	}
	if g.vertices++; g.vertices > g.limits.Vertices {
		return orb.Point{}, &Error{Msg: fmt.Sprintf("more than %d positions", g.limits.Vertices)}
	}
	if len(v) > 2 {
		g.heights++
	}
	p, err := g.system.degrees(orb.Point{v[0], v[1]})
	if err != nil {
		return p, g.at(n, 0, err)
	}
	return p, nil
}

func (g *geoJSON) line(n node) (orb.LineString, error) { return list(n, g.point) }

func (g *geoJSON) polygon(n node) (orb.Polygon, error) {
	rings, err := list(n, g.ring)
	if err == nil && len(rings) == 0 {
		err = &Error{Msg: "a polygon without rings", Hint: "draw the outline anew"}
	}
	return rings, err
}

func (g *geoJSON) ring(n node) (orb.Ring, error) {
	line, err := g.line(n)
	if err != nil {
		return nil, err
	}
	if err := checkRing(orb.Ring(line)); err != nil {
		return nil, g.at(n, 0, err)
	}
	return orb.Ring(line), nil
}
