package spray

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo"
)

// unit is a name as it may be typed, and how much of the base unit it is.
type unit struct {
	name string
	size float64
}

// kind is a quantity that may be typed in several units.
type kind struct {
	what  string
	units []unit            // the first is the one that messages show
	also  map[string]string // other names of them, in small letters
}

func lengths() kind {
	return kind{"a length", []unit{{"m", 1}, {"ft", geo.MetresPerFoot}, {"in", geo.MetresPerFoot / 12}, {"cm", 0.01}}, map[string]string{"feet": "ft", "foot": "ft", "meters": "m", "metres": "m"}}
}

func speeds() kind {
	return kind{"a speed", []unit{{"km/h", geo.MetresSPerKilometreHour}, {"mph", geo.MetresSPerMileHour}, {"m/s", 1}}, nil}
}

func volumes() kind {
	return kind{"a volume", []unit{{"L", 1}, {"gal", geo.LitresPerGallon}}, nil}
}

func rates() kind {
	return kind{"a carrier rate", []unit{{"L/ha", 1}, {"gal/ac", geo.LitresHaPerGallonAc}}, map[string]string{"gpa": "gal/ac", "gal/acre": "gal/ac"}}
}

func times() kind { return kind{"a time", []unit{{"s", 1}, {"min", 60}}, nil} }

// A Quantity is a number as it was typed, in its unit and in the base unit.
type Quantity struct {
	Value float64
	Unit  string
	Base  float64 // m, m/s, L, L/ha or s
}

// String writes it as it was typed.
func (q Quantity) String() string {
	return strconv.FormatFloat(q.Value, 'g', -1, 64) + " " + q.Unit
}

// ParseLength reads "24m", "80 ft"; ParseSpeed "12km/h", "8mph"; ParseVolume
// "2000L", "600gal"; ParseRate "140L/ha", "15gal/ac"; ParseTime "1.5s". The unit
// is always asked for: a number alone could be meant in two ways. Capitals do
// not matter. Numbers are 0 or more.
func ParseLength(text string) (Quantity, error) { return lengths().parse(text, "24m") }

// ParseSpeed reads a speed, see [ParseLength].
func ParseSpeed(text string) (Quantity, error) { return speeds().parse(text, "8mph") }

// ParseVolume reads a volume, see [ParseLength].
func ParseVolume(text string) (Quantity, error) { return volumes().parse(text, "600gal") }

// ParseRate reads a carrier rate, see [ParseLength].
func ParseRate(text string) (Quantity, error) { return rates().parse(text, "140L/ha") }

// ParseTime reads a time, see [ParseLength].
func ParseTime(text string) (Quantity, error) { return times().parse(text, "1.5s") }

func (k kind) parse(text, example string) (Quantity, error) {
	value, name, err := split(text)
	if other, known := k.also[strings.ToLower(name)]; known {
		name = other
	}
	if err == nil {
		for _, u := range k.units {
			if strings.EqualFold(u.name, name) {
				return Quantity{value, u.name, value * u.size}, nil
			}
		}
	}
	var names []string
	for _, u := range k.units {
		names = append(names, u.name)
	}
	return Quantity{}, fmt.Errorf("%q is not %s: want a number with %s, such as %s", text, k.what, strings.Join(names, ", "), example)
}

// split parts a number, with no sign and no exponent, from the unit behind it.
func split(text string) (float64, string, error) {
	digit := func(c rune) bool { return c >= '0' && c <= '9' }
	plain := strings.TrimSpace(text)
	behind := strings.TrimLeftFunc(plain, digit)
	if fraction, is := strings.CutPrefix(behind, "."); is && strings.IndexFunc(fraction, digit) == 0 {
		behind = strings.TrimLeftFunc(fraction, digit)
	}
	number := plain[:len(plain)-len(behind)]
	if number == "" || strings.Contains(behind, "\n") {
		return 0, "", fmt.Errorf("%q does not begin with a number", text)
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, "", fmt.Errorf("%q is not a number", number)
	}
	return v, strings.TrimSpace(behind), nil
}

// A Product is what the person typed off the label: a name and an amount for
// each acre or hectare. Its unit is taken as it is.
type Product struct {
	Name   string
	Amount float64
	Unit   string // of the amount: lb, fl oz, mL ...
	Per    string // ac or ha
}

// ParseProduct reads "name=3lb/ac".
func ParseProduct(text string) (Product, error) {
	wrong := fmt.Errorf("%q is not a product: want name=amount, such as \"product A=3lb/ac\"", text)
	i := strings.LastIndex(text, "=")
	if i < 1 {
		return Product{}, wrong
	}
	value, name, err := split(text[i+1:])
	slash := strings.LastIndex(name, "/")
	if err != nil || slash < 1 {
		return Product{}, wrong
	}
	per := strings.ToLower(strings.TrimSpace(name[slash+1:]))
	if !slices.Contains([]string{"ac", "ha"}, per) {
		return Product{}, fmt.Errorf("%q: an amount is for each ac or ha", text)
	}
	return Product{strings.TrimSpace(text[:i]), value, strings.TrimSpace(name[:slash]), per}, nil
}

// Total is the amount for an area in m², in the product's own unit.
func (p Product) Total(area float64) float64 {
	if p.Per == "ac" {
		return p.Amount * (area / geo.SquareMetresPerAcre)
	}
	return p.Amount * (area / geo.SquareMetresPerHectare)
}
