package testkit

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Member is the tolerance of one member, in place of that of its file. In JSON a
// member is called as it stands there, and so are the numbers in its arrays; in
// XML an attribute is called element.attribute, a text as its element.
type Member struct {
	Name      string
	Tolerance float64
}

// GoldenJSON compares JSON with testdata/golden/name, which -update rewrites, after
// parsing both: numbers may differ by the tolerance, those in strings that hold
// nothing but numbers too; all else must be equal, but for the order of members.
func GoldenJSON(t testing.TB, name string, got []byte, tolerance float64, members ...Member) {
	t.Helper()
	want := Golden(t, name, got)
	differences, err := differentJSON(want, got, newTolerances(tolerance, members))
	require.NoError(t, err, name)
	report(t, name, differences)
}

// GoldenXML is [GoldenJSON] for XML: space between elements, comments and the order
// of attributes do not matter.
func GoldenXML(t testing.TB, name string, got []byte, tolerance float64, members ...Member) {
	t.Helper()
	want := Golden(t, name, got)
	differences, err := differentXML(want, got, newTolerances(tolerance, members))
	require.NoError(t, err, name)
	report(t, name, differences)
}

// report fails with the first differences: more of them help nobody.
func report(t testing.TB, name string, differences []string) {
	t.Helper()
	const most = 20
	if n := len(differences); n > 0 {
		t.Errorf("%s: %d differences (-update takes them over):\n%s", name, n, strings.Join(differences[:min(n, most)], "\n"))
	}
}

// tolerances are those of members, and that of all others under the empty name.
type tolerances map[string]float64

func newTolerances(rest float64, members []Member) tolerances {
	all := tolerances{"": rest}
	for _, m := range members {
		all[m.Name] = m.Tolerance
	}
	return all
}

func (t tolerances) of(member string) float64 {
	if v, ok := t[member]; ok {
		return v
	}
	return t[""]
}

// near reports whether two numbers are as good as equal. The last digit that a file
// writes may fall either way, so a billionth of the tolerance is added.
func (t tolerances) near(member string, want, got float64) bool {
	return math.Abs(want-got) <= t.of(member)*(1+1e-9)
}

// sameText reports whether two strings are equal, or lists of numbers that are near.
func (t tolerances) sameText(member, want, got string) bool {
	if want == got {
		return true
	}
	a, between, ok := numbers(want)
	b, betweenToo, okToo := numbers(got)
	if !ok || !okToo || !slices.Equal(between, betweenToo) {
		return false
	}
	for i := range a {
		if !t.near(member, a[i], b[i]) {
			return false
		}
	}
	return true
}

// numbers takes a string of nothing but numbers, parted by commas and space, to
// these and to the commas after them.
func numbers(text string) (values []float64, commas []int, ok bool) {
	for _, group := range strings.Fields(text) {
		parts := strings.Split(group, ",")
		for _, part := range parts {
			v, err := strconv.ParseFloat(part, 64)
			if err != nil {
				return nil, nil, false
			}
			values = append(values, v)
		}
		commas = append(commas, len(parts))
	}
	return values, commas, len(values) > 0
}

func differentJSON(want, got []byte, t tolerances) ([]string, error) {
	a, err := parsedJSON(want)
	if err != nil {
		return nil, fmt.Errorf("the golden file: %w", err)
	}
	b, err := parsedJSON(got)
	if err != nil {
		return nil, err
	}
	return t.values("", "", a, b), nil
}

func parsedJSON(text []byte) (v any, err error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&v); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("something follows the value")
	}
	return v, nil
}

// values compares two values at a path, both of a member.
func (t tolerances) values(path, member string, want, got any) (out []string) {
	differ := func() []string { return []string{fmt.Sprintf("%s: want %v, got %v", path, want, got)} }
	switch a := want.(type) {
	case map[string]any:
		b, ok := got.(map[string]any)
		if !ok {
			return differ()
		}
		return t.objects(path, a, b)
	case []any:
		b, ok := got.([]any)
		if !ok {
			return differ()
		}
		if len(a) != len(b) {
			return []string{fmt.Sprintf("%s: want %d elements, got %d", path, len(a), len(b))}
		}
		for i := range a {
			out = append(out, t.values(fmt.Sprintf("%s[%d]", path, i), member, a[i], b[i])...)
		}
		return out
	case json.Number:
		b, ok := got.(json.Number)
		x, errX := a.Float64()
		y, errY := b.Float64()
		if !ok || errX != nil || errY != nil || !t.near(member, x, y) {
			return differ()
		}
		return nil
	case string:
		if b, ok := got.(string); !ok || !t.sameText(member, a, b) {
			return differ()
		}
		return nil
	}
	if want != got { // true, false and null
		return differ()
	}
	return nil
}

func (t tolerances) objects(path string, want, got map[string]any) (out []string) {
	for _, name := range sortedNames(want, got) {
		a, inWant := want[name]
		b, inGot := got[name]
		at := path + "." + name
		switch {
		case !inGot:
			out = append(out, at+": missing")
		case !inWant:
			out = append(out, at+": not wanted")
		default:
			out = append(out, t.values(at, name, a, b)...)
		}
	}
	return out
}

// sortedNames are the names in either of two maps, sorted.
func sortedNames[V any](a, b map[string]V) (names []string) {
	for name := range a {
		names = append(names, name)
	}
	for name := range b {
		names = append(names, name)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// element is an element of XML with all that counts of it.
type element struct {
	name       string
	attributes map[string]string
	text       string
	children   []*element
}

func differentXML(want, got []byte, t tolerances) ([]string, error) {
	a, err := parsedXML(want)
	if err != nil {
		return nil, fmt.Errorf("the golden file: %w", err)
	}
	b, err := parsedXML(got)
	if err != nil {
		return nil, err
	}
	return t.elements("", a, b), nil
}

func parsedXML(text []byte) (*element, error) {
	d := xml.NewDecoder(bytes.NewReader(text))
	open := []*element{{}}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			open[0].text = "" // what stands between prologue and root
			return open[0], nil
		}
		if err != nil {
			return nil, err
		}
		top := open[len(open)-1]
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: qualified(token.Name), attributes: map[string]string{}}
			for _, a := range token.Attr {
				e.attributes[qualified(a.Name)] = a.Value
			}
			top.children, open = append(top.children, e), append(open, e)
		case xml.EndElement:
			top.text = strings.TrimSpace(top.text)
			open = open[:len(open)-1]
		case xml.CharData:
			top.text += string(token)
		}
	}
}

func qualified(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// elements compares two elements of one name at a path.
func (t tolerances) elements(path string, want, got *element) (out []string) {
	local := want.name[strings.LastIndex(want.name, ":")+1:]
	if !t.sameText(local, want.text, got.text) {
		out = append(out, fmt.Sprintf("%s: want the text %q, got %q", path, want.text, got.text))
	}
	for _, name := range sortedNames(want.attributes, got.attributes) {
		a, inWant := want.attributes[name]
		b, inGot := got.attributes[name]
		switch at := path + "@" + name; {
		case !inGot:
			out = append(out, at+": missing")
		case !inWant:
			out = append(out, at+": not wanted")
		case !t.sameText(local+"."+name, a, b):
			out = append(out, fmt.Sprintf("%s: want %q, got %q", at, a, b))
		}
	}
	if len(want.children) != len(got.children) {
		return append(out, fmt.Sprintf("%s: want %d elements in it, got %d", path, len(want.children), len(got.children)))
	}
	for i, a := range want.children {
		b := got.children[i]
		at := fmt.Sprintf("%s/%s[%d]", path, a.name, i)
		if a.name != b.name {
			out = append(out, fmt.Sprintf("%s: got the element %s", at, b.name))
			continue
		}
		out = append(out, t.elements(at, a, b)...)
	}
	return out
}
