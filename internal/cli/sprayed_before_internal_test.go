package cli

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Sprays of other fields and of a season before are not told of.
func TestSpraysOfTheFieldsOfAMap(t *testing.T) {
	all := []sprayed{{Date: "2026-03-24", Field: "A"}, {Date: "2026-03-23", Field: "A"}, {Date: "2026-07-20", Field: "B"}, {Date: "2026-07-23", Field: "A"}}
	got := sprayedOf(all, map[string]string{"A": "2026-07-22"})
	assert.Equal(t, []sprayed{{Date: "2026-03-24", Field: "A"}, {Date: "2026-07-23", Field: "A"}}, got)
	assert.Len(t, sprayedOf([]sprayed{{Date: "2001-01-01", Field: "A"}}, map[string]string{"A": ""}), 1, "of counts without a day")
}
