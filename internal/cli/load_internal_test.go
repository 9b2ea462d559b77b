package cli

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// The settings of a visit were written by somebody else: they have no file opened that lies
// elsewhere on this machine, though one of older programs is taken where one works.
func TestSettingsOfASeasonOpenNoFileElsewhere(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	require.NoError(t, os.Mkdir("below", 0o700))
	for path, opened := range map[string]bool{"eyes.json": true, filepath.Join("below", "eyes.json"): true, filepath.Join(folder, "eyes.json"): false, filepath.Join("..", filepath.Base(folder), "eyes.json"): false} {
		require.NoError(t, os.WriteFile(path, []byte("{}"), 0o600))
		o := engine.Defaults()
		o.Observers = path
		kept := engine.Setup{Settings: o}
		w, err := setupOver(o, kept, nil, func(string) string { return "put it back" })
		if opened {
			require.NoError(t, err, path)
			assert.Equal(t, "{}", string(w.Named["observers"].Content))
			continue
		}
		assert.ErrorContains(t, err, "the program of then did not keep the file", path)
		w, err = setupOver(o, kept, nil, nil)
		require.NoError(t, err, "what this machine wrote itself")
		assert.Equal(t, "{}", string(w.Named["observers"].Content))
	}
}
