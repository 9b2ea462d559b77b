package assess_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
)

func TestAFieldIsChosenWithItsAccentAsOneSignOrTwo(t *testing.T) {
	at, err := assess.Chosen([]string{"Home", "Mu\u0308ller"}, []string{"M\u00dcLLER"})
	require.NoError(t, err)
	assert.Equal(t, []int{1}, at)
	_, err = assess.Chosen([]string{"Home", "Mu\u0308ller"}, []string{"Muller"})
	assert.Error(t, err)
}
