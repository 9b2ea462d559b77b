package boundary

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// usual are the properties that hold a field's name when none is asked for, in
// order of trust. Common practice, no source.
var usual = [...]string{"name", "field", "field_name", "fieldname", "label", "title"}

// customers and farms are the properties that tell whose a field is. Common practice, no
// source.
var (
	customers = [...]string{"customer", "grower", "client", "customer_name", "grower_name", "client_name"}
	farms     = [...]string{"farm", "farm_name"}
)

// ofProperty is the first of some properties that is filled, of no more than a name may have.
func ofProperty(f geo.Feature, names []string) string {
	for _, want := range names {
		for _, p := range f.Properties {
			if strings.EqualFold(p.Name, want) {
				if t := text(p.Value); t != "" && len(t) <= mostNamed {
					return t
				}
			}
		}
	}
	return ""
}

// naming gives every field a name of its own.
type naming struct {
	property string
	found    bool // the property asked for occurs
	several  bool
	used     map[string]bool
	last     map[string]int // number that was last put behind a name
	n        int
}

func newNaming(features []geo.Feature, property string) *naming {
	return &naming{property: property, several: len(features) > 1, used: map[string]bool{}, last: map[string]int{}}
}

// next names a field; note says when the name had to be changed.
func (n *naming) next(f geo.Feature) (name, note string) {
	n.n++
	return n.again(f)
}

// again names one more field of the same feature.
func (n *naming) again(f geo.Feature) (name, note string) {
	wanted := n.wanted(f)
	if wanted == "" {
		wanted = "field"
		if n.several {
			wanted = fmt.Sprintf("field %d", n.n)
		}
	}
	name = wanted
	for k := max(2, n.last[wanted]+1); n.used[name]; k++ {
		name = fmt.Sprintf("%s (%d)", wanted, k)
		n.last[wanted] = k
	}
	n.used[name] = true
	if name != wanted {
		note = fmt.Sprintf("a second field is named %q: it is called %q here", wanted, name)
	}
	return name, note
}

// wanted is the name that a feature tells, without one its id; "" where it has neither.
func (n *naming) wanted(f geo.Feature) string {
	if name := n.told(f); name != "" || n.property != "" {
		return name
	}
	return oneLine(f.ID)
}

// told is the name that a feature has among its properties, "" for none. An id is none: programs
// number features by themselves.
func (n *naming) told(f geo.Feature) string {
	if n.property != "" {
		v, ok := f.Properties.Get(n.property)
		n.found = n.found || ok
		return text(v)
	}
	for _, want := range usual {
		for _, p := range f.Properties {
			if strings.EqualFold(p.Name, want) {
				if t := text(p.Value); t != "" {
					return t
				}
			}
		}
	}
	return ""
}

func (n *naming) missing() string {
	if n.property == "" || n.found {
		return ""
	}
	return fmt.Sprintf("no feature has a property %q: fields are numbered", n.property)
}

func text(v any) string {
	if v == nil {
		return ""
	}
	if f, is := v.(float64); is { // without an exponent, which no name has
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	return oneLine(fmt.Sprint(v))
}

// oneLine keeps names to one line of the screen.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
