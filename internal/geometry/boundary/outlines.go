package boundary

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// Outlines are what a file outlines.
type Outlines struct {
	Fields  []geo.Field // no two share ground, and none lies in ground that is no field
	NoField []NoField   // ponds, yards and the like, which are left out of the fields
	// Closed is what NoField outlines, and holes that reach over the edge of their field:
	// no boom may reach into it from beside.
	Closed   []geo.Field
	Asked    []Nested  // fields on another of which nothing says whether they are fields
	Overlaps []Overlap // of fields, as they were drawn
	Unbound  []Unbound
	Notes    []string // what was repaired, left out or renamed
	Warnings []string // what was done to ground that was drawn twice
	// Kept are the properties of fields that go with them to the applicator, by the names
	// of fields: rows, the direction of the rows in degrees, and grower, whose field it is.
	Kept  map[string]geo.Properties
	holes []hole
}

// keptProperties are the names of those that are kept, as they are written.
var keptProperties = [...]string{"rows", "grower"}

// keptOf are the properties of a feature that are kept; capitals make no difference.
func keptOf(f geo.Feature) (kept geo.Properties) {
	for _, name := range keptProperties {
		for _, p := range f.Properties {
			if strings.EqualFold(p.Name, name) && text(p.Value) != "" {
				kept = append(kept, geo.Property{Name: name, Value: p.Value})
				break
			}
		}
	}
	return kept
}

// NoField is an outline that is no field. Why goes on from its name, such as "is water
// (natural=water)".
type NoField struct {
	geo.Field
	Why   string
	alone bool // it lies in no field
}

// LeftOut is the line on one that lies in no field.
func (n NoField) LeftOut() string {
	return fmt.Sprintf("%q %s, and lies in none: left out", n.Name, n.Why)
}

// Nested is a field inside another one, or one over its edge that may be no field by its name.
type Nested struct {
	Field  geo.Field
	Around string // name of the other field
	Maybe  bool   // it may be no field by its name
}

// Overlap is the ground that two fields shared as they were drawn. It went to the
// smaller one.
type Overlap struct {
	To   string  `json:"to"`
	From string  `json:"from"`
	Area float64 `json:"area_m2"`
}

// String is the line that is shown.
func (o Overlap) String() string {
	return fmt.Sprintf("fields %q and %q overlap by %s: that ground goes to %q, the smaller one, and to no other", o.To, o.From, figures.Metric.Area(o.Area), o.To)
}

// Read returns what the features outline, in their order.
//
// Polygons, multipolygons, collections of them and closed lines are outlines.
// Lines whose ends lie within 15 m are closed; points and other open lines are
// left out with a note. An outline that is not valid is taken as [planar.Ground]
// takes it, and said; one that has no ground then, is not a place on earth or is
// too large for a field is an error that names feature and how to fix it, and so is a file
// without any outline.
//
// An outline that is no field by its kind or name is cut out of all fields, and so
// is a hole of another field. Of fields that overlap the smaller one has the ground.
// An outline inside another is a field of its own; where nothing says so it is among
// Asked, see [Outlines.Hold].
func Read(features []geo.Feature, set Settings) (Outlines, error) {
	var left leftOut
	r := reading{set: set, names: newNaming(features, set.NameProperty), known: map[orb.Bound]known{}, kept: map[string]geo.Properties{}}
	for i, f := range features {
		if outline := left.outline(f.Geometry); len(outline) > 0 {
			if err := errWorkedOut(f); err != nil {
				return Outlines{}, fmt.Errorf("%s: %w", where(i, f), err)
			}
			if err := r.add(f, outline); err != nil {
				return Outlines{}, fmt.Errorf("%s, %w", where(i, f), err)
			}
			continue
		}
		r.leave(f)
	}
	if len(r.all) == 0 {
		return Outlines{}, left.err(len(features))
	}
	out, err := r.outlines()
	if err != nil {
		return Outlines{}, err
	}
	for _, note := range []string{r.names.missing(), left.closed(), left.wentOn(), left.note(r.unbound)} {
		if note != "" {
			out.Notes = append(out.Notes, note)
		}
	}
	return out, nil
}

// reading is the outlines of a file on the way to fields.
type reading struct {
	set     Settings
	names   *naming
	all     []*drawn
	notes   []string
	unbound []Unbound
	known   map[orb.Bound]known // the last outline of each bound, as it came
	kept    map[string]geo.Properties
}

// known is an outline as it came with what it was found to be.
type known struct {
	outline orb.MultiPolygon
	drawn   drawn
}

// mostNamed is how long the name of a field may be, in bytes: it stands on every screen,
// sheet and picture many times. Judgement, no source.
const mostNamed = 1000

func (r *reading) add(f geo.Feature, outline orb.MultiPolygon) error {
	name, note := r.names.next(f)
	if len(name) > mostNamed {
		return fmt.Errorf("its name has %d letters, which no name has; name the fields by another property", utf8.RuneCountInString(name))
	}
	r.note(note)
	if kept := keptOf(f); kept != nil {
		r.kept[name] = kept
	}
	closed := closedBy(f, name)
	var inner []orb.MultiPolygon
	var err error
	if closed == "" {
		if outline, inner, err = parted(outline); err != nil {
			return fmt.Errorf("field %q: %w", name, err)
		}
	}
	if err := r.hold(f, name, closed, outline); err != nil {
		return err
	}
	for _, part := range inner {
		again, note := r.names.again(f)
		r.note(note)
		if err := r.hold(f, again, "", part); err != nil {
			return err
		}
	}
	return nil
}

func (r *reading) hold(f geo.Feature, name, closed string, outline orb.MultiPolygon) error {
	d, err := r.drawn(outline)
	if err != nil {
		return fmt.Errorf("field %q: %w", name, err)
	}
	d.told = r.names.told(f)
	d.name, d.closed, d.maybe = name, closed, closed == "" && mayBeClosed(name)
	d.customer, d.farm = ofProperty(f, customers[:]), ofProperty(f, farms[:])
	r.all = append(r.all, &d)
	return nil
}

// drawn is what an outline is found to be; one that comes again and again is looked at
// once, since repairing it takes a while.
func (r *reading) drawn(outline orb.MultiPolygon) (drawn, error) {
	bound := geo.Bound(outline)
	if k, ok := r.known[bound]; ok && k.outline.Equal(outline) {
		return k.drawn, nil
	}
	d, err := newDrawn(outline)
	if err == nil {
		r.known[bound] = known{outline, d}
	}
	return d, err
}

func (r *reading) note(note string) {
	if note != "" {
		r.notes = append(r.notes, note)
	}
}

// outlines sorts out what lies on one another.
func (r *reading) outlines() (Outlines, error) {
	r.onlyOnes()
	r.withoutCopies()
	pairs, err := pairsOf(r.all)
	if err != nil {
		return Outlines{}, err
	}
	l := layers{all: r.all, pairs: pairs, inner: r.set.Inner}
	if err := l.sort(); err != nil {
		return Outlines{}, err
	}
	if err := r.flaws(); err != nil {
		return Outlines{}, err
	}
	out := l.out
	out.Notes, out.Kept, out.Unbound = r.notes, r.kept, r.unbound
	for _, d := range r.all {
		switch {
		case d.closed != "":
			out.NoField = append(out.NoField, NoField{d.field(), d.closed, d.alone})
			out.Closed = append(out.Closed, d.field())
			continue
		case !d.gone:
			out.Fields = append(out.Fields, d.field())
			for _, ring := range d.holes {
				out.holes = append(out.holes, hole{d.name, orb.MultiPolygon{ring}})
			}
		}
		over, err := d.overEdge()
		if err != nil {
			return Outlines{}, fmt.Errorf("field %q: %w", d.name, err)
		}
		out.Closed = append(out.Closed, over...)
	}
	return out, nil
}

// flaws notes which outlines were not valid, with the ground that they end up with.
func (r *reading) flaws() error {
	for _, d := range r.all {
		if d.flaw == "" || d.gone {
			continue
		}
		if err := d.measure(); err != nil {
			return err
		}
		what := "field"
		if d.closed != "" {
			what = "outline"
		}
		r.note(fmt.Sprintf("%s %q: %s; taken as the ground inside the outline and outside its holes, %s: look at the map before use",
			what, d.name, d.flaw, figures.Metric.Area(d.area)))
	}
	return nil
}

// onlyOnes takes outlines for fields where none else is: a file of fields holds one.
func (r *reading) onlyOnes() {
	for _, d := range r.all {
		if d.closed == "" {
			return
		}
	}
	for _, d := range r.all {
		r.note(fmt.Sprintf("%q %s, but nothing else in the file is one: taken for a field", d.name, d.closed))
		d.closed = ""
	}
}

// withoutCopies leaves out what has the same outline, vertex by vertex, as another
// of its kind.
func (r *reading) withoutCopies() {
	known := map[orb.Bound][]*drawn{}
	var kept []*drawn
	for _, d := range r.all {
		copied := ""
		for _, k := range known[d.bound] {
			if (k.closed == "") == (d.closed == "") && k.lonlat.Equal(d.lonlat) {
				copied = k.name
				break
			}
		}
		if copied != "" {
			r.note(fmt.Sprintf("%q has the same outline as %q: left out", d.name, copied))
			continue
		}
		known[d.bound] = append(known[d.bound], d)
		kept = append(kept, d)
	}
	r.all = kept
}

// listed are names in one line.
func listed(names []string) string {
	const most = 3
	var quoted []string
	for i, n := range names {
		if i == most {
			quoted = append(quoted, fmt.Sprintf("%d more", len(names)-i))
			break
		}
		quoted = append(quoted, fmt.Sprintf("%q", n))
	}
	return strings.Join(quoted, ", ")
}
