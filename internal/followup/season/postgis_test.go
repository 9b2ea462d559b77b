//go:build !js && !nosqlite

package season_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// inDatabase is the address of a database without a season.
func inDatabase(t testing.TB) string {
	t.Helper()
	p := testkit.StartPostgres(t)
	return p.Address("postgres", p.Database(t))
}

func TestADatabaseFirst(t *testing.T) {
	s := opened(t, inDatabase(t))
	id, err := s.Add(visit(1))
	require.NoError(t, err)
	got, err := s.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, visit(1).Files, got.Files)
	assert.Equal(t, visit(1).Fields, got.Fields)
	assert.Equal(t, "postgres", got.Author)
	_ = season.ErrKnown
}
