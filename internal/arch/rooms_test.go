package arch_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// floors are the rooms of the house, lowest first: a room imports from lower floors only,
// and of its own floor from itself alone.
var floors = [][]string{
	{"interp", "internal/files", "internal/recall", "internal/shares", "internal/sorted", "internal/stat", "testdata/demo"},
	{"geo"},
	{"internal/language"},
	{"internal/geometry"},
	{"internal/scouting"},
	{"internal/mapping"},
	{"internal/followup", "internal/spraying"},
	{"internal/output"},
	{"internal/engine"},
	{"internal/web"},
	{"internal/cli"},
	{"cmd"},
}

// roomOf is the room of a package by its folder; "" for none.
func roomOf(folder string) (room string, floor int) {
	for i, rooms := range floors {
		for _, r := range rooms {
			if folder == r || strings.HasPrefix(folder, r+"/") {
				return r, i
			}
		}
	}
	return "", -1
}

func TestRoomsImportFromLowerFloors(t *testing.T) {
	arrows := map[string]bool{}
	sources, err := readSources(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	for _, src := range sources {
		for _, imported := range src.imports {
			from, high := roomOf(src.folder)
			to, low := roomOf(strings.TrimPrefix(imported, module+"/"))
			if src.isTest() || from == "" || to == "" || from == to {
				continue
			}
			assert.Greater(t, high, low, "%s imports %s", src, imported)
			arrows[from+" → "+to] = true
		}
	}
	var lines []string
	for arrow := range arrows {
		lines = append(lines, arrow)
	}
	slices.Sort(lines)
	got := strings.Join(lines, "\n") + "\n"
	assert.Equal(t, string(testkit.Golden(t, "rooms.txt", []byte(got))), got, "an arrow more or less between rooms: on purpose?")
}
