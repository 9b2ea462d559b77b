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
		{[]string{"../x", "/"}, []string{"..", ""}, []string{"field/x", "field"}},
	} {
		assert.Equal(t, c.want, folderNames(c.fields, c.growers))
	}
}
