package cli

import (
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// day is a flag that takes a day as people write it, and keeps it as ISO 8601.
type day struct{ value *string }

func (d day) Set(text string) error {
	if strings.TrimSpace(text) == "" { // a blank one is none
		*d.value = ""
		return nil
	}
	v, err := engine.ParseDay(text)
	if err == nil {
		*d.value = v
	}
	return err
}

func (d day) String() string {
	if d.value == nil {
		return ""
	}
	return *d.value
}

func (d day) Type() string { return "day" }

// days is a flag that takes several days, parted by commas; a comma may stand in a
// day too, as in July 14, 2026. Given again, it adds to those before.
type days struct{ values *[]string }

func (d days) Set(text string) error {
	var out []string
	for parts := strings.Split(text, ","); len(parts) > 0; {
		v, err := engine.ParseDay(parts[0])
		used := 1
		for n := 2; err != nil && n <= min(3, len(parts)); n++ { // Tuesday, July 14, 2026
			if longer, e := engine.ParseDay(strings.Join(parts[:n], ",")); e == nil {
				v, err, used = longer, nil, n
			}
		}
		if err != nil {
			return err
		}
		out, parts = append(out, v), parts[used:]
	}
	*d.values = append(*d.values, out...)
	return nil
}

func (d days) String() string {
	if d.values == nil || len(*d.values) == 0 {
		return ""
	}
	return strings.Join(*d.values, ",")
}

func (d days) Type() string { return "days" }

// dayOrder is a flag for what comes first in dates that can be read both ways: one for all
// files, and more for files by their names.
type dayOrder struct {
	value *engine.DayOrder
	given bool // by this flag already
}

func (o *dayOrder) Set(text string) error {
	if o.given && *o.value != "" {
		text = string(*o.value) + "," + text
	}
	o.given = true
	return o.value.UnmarshalText([]byte(text))
}

func (o *dayOrder) String() string {
	if o.value == nil {
		return ""
	}
	return string(*o.value)
}
func (o *dayOrder) Type() string { return "order" }
