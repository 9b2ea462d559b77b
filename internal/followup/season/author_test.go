//go:build !js && !nosqlite

package season_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/season"
)

func TestAuthorsAreWrittenInOneWay(t *testing.T) {
	for text, want := range map[string]string{"": "", " ; ": "", "Ben": "Ben", "Ben;Anna ; Ben": "Anna; Ben", " Anna \t Lee\n": "Anna Lee"} {
		assert.Equal(t, want, season.Authors(text))
	}
	assert.Equal(t, "Anna; Ben", season.Authors("Ben", "", "Anna; Ben"))
}
