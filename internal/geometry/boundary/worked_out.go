package boundary

import (
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// A WorkedOut is what a feature is that this program worked out, and that bounds no field.
type WorkedOut struct{ What string }

func (e WorkedOut) Error() string { return "this is " + e.What + ", not a field" }

// errWorkedOut are features that this program worked out, and that bound no field: the ground
// in a zone or of a spray job would be taken for the whole of it.
func errWorkedOut(f geo.Feature) error {
	text := func(name string) string {
		value, _ := f.Properties.Get(name)
		text, _ := value.(string)
		return text
	}
	has := func(names ...string) bool {
		return !slices.ContainsFunc(names, func(name string) bool { _, is := f.Properties.Get(name); return !is })
	}
	job := map[string]string{"ground": "ground to spray", "swath": "swaths", "left": "ground left unsprayed", "keep_off": "ground to keep off"}[text("kind")]
	switch {
	case slices.Contains([]string{"treat", "watch", "clear"}, text("zone")) && has("field", "unit", "area_ha", "share"):
		return WorkedOut{"a zone of a map"}
	case job != "" && has("field", "counted", "area_ha"):
		return WorkedOut{"of a spray job, " + job}
	}
	return nil
}
