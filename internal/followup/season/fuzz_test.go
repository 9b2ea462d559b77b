//go:build !js && !nosqlite

package season_test

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// FuzzOpen opens a season some bytes of which are others, or the end of which is lost.
// What is taken as whole gives the counts that were kept, or says that it cannot.
func FuzzOpen(f *testing.F) {
	path := filepath.Join(f.TempDir(), "season.gpkg")
	s, err := season.OpenToAdd(path)
	require.NoError(f, err)
	id, err := s.Add(visit(3))
	require.NoError(f, err)
	kept, err := s.Visit(id)
	require.NoError(f, err)
	require.NoError(f, s.Close())
	whole, err := os.ReadFile(path)
	require.NoError(f, err)
	f.Add(uint32(100), []byte{7}, uint32(0))
	f.Add(uint32(0), []byte("no database"), uint32(0))
	f.Add(uint32(len(whole)/2), []byte{0, 0, 0, 0, 255}, uint32(0))
	f.Add(uint32(18), []byte{2, 2}, uint32(len(whole)/3))
	f.Fuzz(func(t *testing.T, at uint32, other []byte, lost uint32) {
		content := append([]byte(nil), whole...)
		copy(content[int(at)%len(content):], other)
		content = content[:len(content)-int(lost)%len(content)]
		path := filepath.Join(t.TempDir(), "season.gpkg")
		require.NoError(t, os.WriteFile(path, content, 0o644))
		s, err := season.Open(path)
		if err != nil {
			return
		}
		defer s.Close()
		readAll(t, s, id, kept)
	})
}

// readAll reads what commands read of a season.
func readAll(t *testing.T, s *season.Season, id int64, kept season.Visit) {
	if s.Check() != nil {
		return
	}
	lines, err := s.List()
	if err != nil {
		return
	}
	for _, line := range lines {
		_, _ = s.Zones(line.ID)
		_, _ = s.StopsOf(line.ID)
	}
	_, _ = s.Fields()
	_, _ = s.Records()
	got, err := s.Visit(id)
	if err == nil && (!reflect.DeepEqual(got.Files, kept.Files) || got.Settings != kept.Settings || !reflect.DeepEqual(got.Fields, kept.Fields) || !reflect.DeepEqual(got.SettingsFiles, kept.SettingsFiles)) {
		t.Fatal("counts, fields or settings that are not those that were kept")
	}
}
