package handoff

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	plane "github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// ByHand is the verdict of zones that a person edited: none of the map's.
const ByHand = "edited by hand"

// Edited is what is known of the map whose zones a person edited.
type Edited struct {
	// Fields are the outlines that the zones are cut at; nil where they are not known.
	Fields []geo.Field
	// Verdicts are what the map said, by the names of fields; of others the zones tell.
	Verdicts map[string]string
}

// outlineOf is the outline of a field. No fields at all have none.
func (e Edited) outlineOf(name string) (orb.MultiPolygon, error) {
	var names []string
	for _, f := range e.Fields {
		if f.Name == name {
			return f.Boundary, nil
		}
		names = append(names, f.Name)
	}
	if names == nil {
		return nil, nil
	}
	return nil, fmt.Errorf("%q is no field of the map: it has %s", name, strings.Join(names, ", "))
}

// edited are the fields of zones as a person left them.
func (e Edited) edited(fields []*field) (err error) {
	for _, f := range fields {
		if f.outline, err = e.outlineOf(f.name); err != nil {
			return err
		}
		said, known := e.Verdicts[f.name]
		if !known {
			said = word(f.first, "verdict")
		}
		f.advice = Advice{Verdict: ByHand, Heading: ByHand, LookAgain: word(f.first, "look_again"), NotRead: word(f.first, "not_read"), Before: said}
	}
	return nil
}

// notes are what edited zones leave open.
func (e Edited) notes(fields []*field) (notes []string) {
	if e.Fields == nil {
		return []string{"the zones were edited by hand, and without their map it was not checked that they lie within the field"}
	}
	for _, f := range e.Fields {
		if !slices.ContainsFunc(fields, func(g *field) bool { return g.name == f.Name }) {
			notes = append(notes, fmt.Sprintf("%s: the edited zones have nothing of it", f.Name))
		}
	}
	return notes
}

// zone is the ground of a zone in a frame; of edited ones what lies within the field.
func (f *field) zone(class zones.Class, frame geo.Frame, within orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(f.zones[class.String()]) == 0 {
		return nil, nil
	}
	ground, err := laid(f.zones[class.String()], frame)
	if err != nil || f.outline == nil {
		return ground, err
	}
	return spray.Both(ground, within)
}

// How far the ground of a zone may be from what its properties say, or from its field: m²,
// and m along its edge, for coordinates that a program rounded. Our choice, no source.
const (
	leastOff = 1.0
	edgeOff  = 0.02
)

// CheckZones refuses zones that are not as a map writes them: with an area that is not that
// of the ground, with a verdict that is empty, or beyond their field, of which there may be
// no outlines.
func CheckZones(features []geo.Feature, outlines []geo.Field) error {
	fields, err := group(features)
	if err != nil {
		return err
	}
	for _, f := range fields {
		here, err := newSite(f.name, f.whole())
		if err != nil {
			return fmt.Errorf("%s: %w", f.name, err)
		}
		outline, err := Edited{Fields: outlines}.outlineOf(f.name)
		if err != nil {
			return err
		}
		for _, feature := range features {
			if word(feature.Properties, "field") == f.name {
				if err := checkZone(feature, here.frame, outline); err != nil {
					return fmt.Errorf("field %q: %w", f.name, err)
				}
			}
		}
	}
	return nil
}

func checkZone(feature geo.Feature, frame geo.Frame, outline orb.MultiPolygon) error {
	name := word(feature.Properties, "zone")
	if v, there := feature.Properties.Get("verdict"); there && (v == nil || v == "") {
		return fmt.Errorf("the %s zone has an empty verdict", name)
	}
	ground, err := laid(polygonsOf(feature.Geometry), frame)
	if err != nil {
		return err
	}
	area, off := geo.Area(ground), leastOff+edgeOff*plane.Length(ground)
	if says, known := feature.Properties.Number("area_ha"); known && !(math.Abs(says*geo.SquareMetresPerHectare-area) <= off) {
		return fmt.Errorf("the %s zone says %s and its ground is %s", name, figures.Metric.Area(says*geo.SquareMetresPerHectare), figures.Metric.Area(area))
	}
	if outline == nil {
		return nil
	}
	beyond, err := spray.Less(ground, frame.ForwardPolygons(outline))
	if err == nil && geo.Area(beyond) > off {
		err = fmt.Errorf("%s of the %s zone lies outside the field", figures.Metric.Area(geo.Area(beyond)), name)
	}
	return err
}
