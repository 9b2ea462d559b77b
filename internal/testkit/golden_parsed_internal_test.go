package testkit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParsedGoldensSeeWhatChanged(t *testing.T) {
	const (
		object = `{"name": "North", "area_m2": 100.5, "ring": [[10.0000001, 50], [11, 51]], "text": "10,50 11,51", "none": null, "yes": true}`
		doc    = `<kml xmlns="urn:x"><!-- note --><P A="1.5" B="text"><c>10,50,0 11,51,0</c></P><Q/></kml>`
	)
	cases := []struct {
		name      string
		want, got string
		differs   string // in the first difference; "" where there is none
	}{
		{"equal", object, object, ""},
		{"another order of members", `{"a": 1, "b": 2}`, `{"b": 2, "a": 1}`, ""},
		{"another order of elements", `[1, 2]`, `[2, 1]`, "[0]"},
		{"within the tolerance", `[10.0000001]`, `[10.0000002]`, ""},
		{"at the tolerance", `[1.0]`, `[1.001]`, ""},
		{"beyond the tolerance", `[1.0]`, `[1.002]`, "[0]"},
		{"beyond it the other way", `[1.0]`, `[0.998]`, "[0]"},
		{"a digit in a deep number", `{"a": {"b": [[1, 2], [3, 4]]}}`, `{"a": {"b": [[1, 2], [3, 5]]}}`, ".a.b[1][1]"},
		{"within the member's own", `{"area_m2": 100.5}`, `{"area_m2": 100.9}`, ""},
		{"within it in an array", `{"area_m2": [1, [2.4]]}`, `{"area_m2": [1, [2.0]]}`, ""},
		{"beyond the member's own", `{"area_m2": 100.5}`, `{"area_m2": 101.1}`, ".area_m2"},
		{"coordinates near", `["10,50 11,51"]`, `["10,50 11.0005,51"]`, ""},
		{"coordinates off", `["10,50 11,51"]`, `["10,50 11,51.01"]`, "[0]"},
		{"coordinates grouped otherwise", `["10,50 11,51"]`, `["10 50,11,51"]`, "[0]"},
		{"a coordinate more", `["10,50"]`, `["10,50 11,51"]`, "[0]"},
		{"words with a number", `["12 ha"]`, `["12.0001 ha"]`, "[0]"},
		{"a date", `["2026-07-15"]`, `["2026-07-16"]`, "[0]"},
		{"a missing member", `{"a": 1, "b": 2}`, `{"a": 1}`, ".b: missing"},
		{"a member too many", `{"a": 1}`, `{"a": 1, "b": 2}`, ".b: not wanted"},
		{"an extra element", `[1, 2]`, `[1, 2, 3]`, "want 2 elements, got 3"},
		{"a missing element", `[1, 2]`, `[1]`, "want 2 elements, got 1"},
		{"null for a number", `[1]`, `[null]`, "[0]"},
		{"a number for null", `[null]`, `[0]`, "[0]"},
		{"a string for a number", `[1]`, `["1"]`, "[0]"},
		{"a number for a string", `["1"]`, `[1]`, "[0]"},
		{"an object for a list", `[[]]`, `[{}]`, "[0]"},
		{"a list for an object", `[{}]`, `[[]]`, "[0]"},
		{"false for true", `[true]`, `[false]`, "[0]"},

		{"XML equal", doc, doc, ""},
		{"XML space and comments", "<a><b/></a>", "<?xml version=\"1.0\"?>\n<a>\n <!-- x --><b></b>\n</a>\n", ""},
		{"XML order of attributes", `<a b="1" c="2"/>`, `<a c="2" b="1"/>`, ""},
		{"XML within the tolerance", `<a b="1.5"/>`, `<a b="1.5005"/>`, ""},
		{"XML beyond the tolerance", `<a b="1.5"/>`, `<a b="1.502"/>`, "@b"},
		{"XML within the member's own", `<PLN C="100"/>`, `<PLN C="100.5"/>`, ""},
		{"XML beyond the member's own", `<PLN C="100"/>`, `<PLN C="101"/>`, "@C"},
		{"XML text of coordinates near", doc, `<kml xmlns="urn:x"><P A="1.5" B="text"><c>10,50,0 11,51.0001,0</c></P><Q/></kml>`, ""},
		{"XML text of coordinates off", doc, `<kml xmlns="urn:x"><P A="1.5" B="text"><c>10,50,0 11,52,0</c></P><Q/></kml>`, "the text"},
		{"XML words", `<a b="x"/>`, `<a b="y"/>`, "@b"},
		{"XML a missing attribute", `<a b="1"/>`, `<a/>`, "@b: missing"},
		{"XML an attribute too many", `<a/>`, `<a b="1"/>`, "@b: not wanted"},
		{"XML an extra element", `<a><b/></a>`, `<a><b/><b/></a>`, "want 1 elements"},
		{"XML a missing element", `<a><b/><b/></a>`, `<a><b/></a>`, "want 2 elements"},
		{"XML another element", `<a><b/></a>`, `<a><c/></a>`, "the element c"},
		{"XML another namespace", `<a xmlns="u"/>`, `<a xmlns="v"/>`, "element v:a"},
	}
	rules := newTolerances(0.001, []Member{{"area_m2", 0.5}, {"PLN.C", 0.5}})
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			compare := differentJSON
			if c.want[0] == '<' {
				compare = differentXML
			}
			differences, err := compare([]byte(c.want), []byte(c.got), rules)
			require.NoError(t, err)
			if c.differs == "" {
				assert.Empty(t, differences)
				return
			}
			require.NotEmpty(t, differences)
			assert.Contains(t, differences[0], c.differs)
		})
	}
}

func TestParsedGoldensRefuseWhatDoesNotParse(t *testing.T) {
	rules := newTolerances(0, nil)
	for _, text := range []string{"", "{", "[1] [2]", `{"a": 1}}`} {
		_, err := differentJSON([]byte("[]"), []byte(text), rules)
		assert.Error(t, err, text)
	}
	for _, text := range []string{"<a>", "<a></b>"} {
		_, err := differentXML([]byte("<a/>"), []byte(text), rules)
		assert.Error(t, err, text)
	}
}
