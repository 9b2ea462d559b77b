//go:build !small

package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Folders of fields are apart on any disk, and those of a grower together.
func TestFoldersOfFields(t *testing.T) {
	for _, c := range []struct{ fields, growers, want []string }{
		{[]string{"Pivot", "Corner block"}, []string{"", ""}, []string{"Pivot", "Corner-block"}},
		{[]string{"A", "a", "A"}, []string{"", "", ""}, []string{"A", "a-2", "A-3"}},
		{[]string{"A", "A", "B"}, []string{"Hill Farm", "Lake Farm", "Hill Farm"}, []string{"Hill-Farm/A", "Lake-Farm/A", "Hill-Farm/B"}},
		{[]string{"Home", "Back", "Home"}, []string{"A/B", "A B", "a b"}, []string{"A-B/Home", "A-B-2/Back", "a-b-3/Home"}},
		{[]string{"Home", "aux"}, []string{"con", ""}, []string{"con-/Home", "aux-"}},
		{[]string{"../x", "/"}, []string{"..", ""}, []string{"field/x", "field-2"}},
		// A field of no known grower that is called like a grower is none of the grower's.
		{[]string{"Home", "Hill Farm"}, []string{"Hill Farm", ""}, []string{"Hill-Farm/Home", "Hill-Farm-2"}},
		{[]string{"hill farm", "Home"}, []string{"", "Hill Farm"}, []string{"hill-farm", "Hill-Farm-2/Home"}},
	} {
		assert.Equal(t, c.want, folderNames(c.fields, c.growers))
	}
}
