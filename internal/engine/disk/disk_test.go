package disk_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func TestAFileComesWithWhatLiesBesideIt(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{"field.shp": "shapes", "field.dbf": "names", "field.txt": "no part of it"} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600))
	}
	path := filepath.Join(folder, "field.shp")
	from, err := disk.Load(path)
	require.NoError(t, err)
	assert.Equal(t, engine.Source{Name: path, Content: []byte("shapes"), Beside: map[string][]byte{".dbf": []byte("names")}}, from)
}

func TestAFolderIsNoFile(t *testing.T) {
	_, err := disk.Load(t.TempDir())
	assert.ErrorContains(t, err, "is a folder, not a file")
	var hinted engine.HintedError
	require.ErrorAs(t, err, &hinted)
	assert.Contains(t, hinted.Hint, "name the file in it")
}

func TestAStreamHasTheNameThatItIsGiven(t *testing.T) {
	from, err := disk.LoadStream("-", strings.NewReader("lat,lon,count\n"))
	require.NoError(t, err)
	assert.Equal(t, engine.Source{Name: "-", Content: []byte("lat,lon,count\n")}, from)
	_, err = disk.LoadStream("-", broken{})
	assert.ErrorContains(t, err, "cut off")
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("cut off") }

func TestASeasonIsKnownByItsContent(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.gpkg")
	assert.False(t, disk.IsSeason(path), "a file that is not there")
	_, err := disk.OpenSeason(path)
	require.Error(t, err)
	_, closeIt, err := disk.OpenSeasonToAdd(path)
	require.NoError(t, err)
	require.NoError(t, closeIt())
	assert.True(t, disk.IsSeason(path))
	file, err := disk.OpenWholeSeason(path)
	require.NoError(t, err)
	visits, err := file.List()
	require.NoError(t, err)
	assert.Empty(t, visits)
	require.NoError(t, file.Close())

	other := filepath.Join(t.TempDir(), "season.gpkg")
	require.NoError(t, os.WriteFile(other, []byte("lat,lon,count\n"), 0o600))
	assert.False(t, disk.IsSeason(other), "a name alone makes no season")
	_, _, err = disk.OpenSeasonToAdd(other)
	require.Error(t, err)
	kept, err := os.ReadFile(other)
	require.NoError(t, err)
	assert.Equal(t, "lat,lon,count\n", string(kept), "nothing of someone else's is written over")
}
