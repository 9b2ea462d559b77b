package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
)

func TestNamesOfPicturesOfFields(t *testing.T) {
	for _, c := range []struct{ fields, want []string }{
		{[]string{"Pivot", "North_3"}, []string{"map-Pivot", "map-North_3"}},
		{[]string{"Field 4/7", "Field 4 7", "field-4-7", "Field 4 7-2"}, []string{"map-Field-4-7", "map-Field-4-7-2", "map-field-4-7-3", "map-Field-4-7-2-2"}},
		{[]string{"../../etc", "", "…", "."}, []string{"map-etc", "map-field", "map-field-2", "map-field-3"}},
		{[]string{"Peña", "Peña", "東区"}, []string{"map-Peña", "map-Peña-2", "map-東区"}}, // composed and not
		{[]string{"overview-2", "Overview 2"}, []string{"map-field-overview-2", "map-field-Overview-2-2"}},
		{[]string{strings.Repeat("x", 300)}, []string{"map-" + strings.Repeat("x", 100)}},
	} {
		assert.Equal(t, c.want, stems(c.fields), "%q", c.fields)
	}
}

// Whatever fields are called, no two pictures have a name that a disk may take for one,
// none leads out of the folder, and none is that of a page of the overview.
func TestNamesOfPicturesAreApart(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		fields := rapid.SliceOfN(rapid.OneOf(rapid.String(), rapid.StringMatching(`[aA](-[12]){0,3}`), rapid.SampledFrom([]string{"overview-2", "Overview-3"})), 0, 40).Draw(t, "fields")
		seen := map[string]bool{overviewPage("x", 1): true, overviewPage("x", 2): true}
		for _, name := range stems(fields) {
			assert.False(t, seen[strings.ToLower(name)], name)
			seen[strings.ToLower(name)] = true
			assert.NotContains(t, name, "/")
			assert.NotContains(t, name, ".")
			assert.NotContains(t, name, "\\")
			assert.Less(t, len(name), 200)
		}
	})
}

func TestPicturesStandAsOneInLists(t *testing.T) {
	files := []File{{Name: "run.json"}, {Name: "map.png"}}
	for i := range 4 {
		files = append(files, File{Name: fmt.Sprintf("map-%d.png", i)})
	}
	files = append(files, File{Name: "map.svg"}, File{Name: "map-0.svg"}, File{Name: "map-1.svg"}, File{Name: "map.pdf"})
	assert.Equal(t, []string{"run.json", "map.png", "map-*.png (4)", "map.svg", "map-0.svg", "map-1.svg", "map.pdf"}, Listed(files))
}
