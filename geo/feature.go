package geo

import "github.com/paulmach/orb"

// A Property is one named value of a feature. Value is nil, a bool, an int64,
// a float64 or a string; nested values of a source are kept as their JSON text.
type Property struct {
	Name  string
	Value any
}

// Properties are kept in the order of their source, which is also the order in
// which writers write them.
type Properties []Property

// Get returns the value of the first property of that name.
func (p Properties) Get(name string) (any, bool) {
	for _, q := range p {
		if q.Name == name {
			return q.Value, true
		}
	}
	return nil, false
}

// Number is the value of a property that is a number, whole or not; ok is false where
// there is none of the name, or it is none.
func (p Properties) Number(name string) (value float64, ok bool) {
	v, _ := p.Get(name)
	switch v := v.(type) {
	case float64:
		return v, true
	case int64:
		return float64(v), true
	}
	return 0, false
}

// A Feature is a geometry in degrees with its properties, free of any file
// format. Geometry is nil where the source has none.
type Feature struct {
	ID         string
	Geometry   orb.Geometry
	Properties Properties
	// Line is the line of the source on which the feature begins, counted from
	// 1, or 0 in formats without lines.
	Line int
}
