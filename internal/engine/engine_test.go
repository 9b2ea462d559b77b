package engine_test

import (
	"bytes"
	"io/fs"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/testdata/demo"
)

func source(t testing.TB, name string) engine.Source {
	t.Helper()
	content, err := fs.ReadFile(demo.Files(), name)
	require.NoError(t, err)
	return engine.Source{Name: name, Content: content}
}

// morning asks for the map of a week of the demo.
func morning(t testing.TB, week string) engine.MapRequest {
	settings := engine.Defaults()
	settings.Field, settings.Out = "field.geojson", "out"
	return engine.MapRequest{Setup: engine.Setup{Settings: settings}, Samples: []engine.Source{source(t, week+".csv")}, Boundary: source(t, "field.geojson"), Version: "test"}
}

func content(t testing.TB, files []engine.File, name string) []byte {
	t.Helper()
	for _, f := range files {
		if f.Name == name {
			return f.Content
		}
	}
	require.Fail(t, "no file is called "+name)
	return nil
}

// What one kind of machine makes, every other makes, byte by byte: CI keeps the zones of
// this test on the machine itself and holds those of WebAssembly against them.
func TestZonesAreTheSameEverywhere(t *testing.T) {
	made, err := engine.Map(t.Context(), morning(t, "week2"))
	require.NoError(t, err)
	zones := content(t, made.Files, "zones.geojson")
	assert.True(t, bytes.Contains(zones, []byte(`"zone":"treat"`)))
	if path := os.Getenv("GEOCORIS_KEEP_ZONES"); path != "" {
		require.NoError(t, os.WriteFile(path, zones, 0o644))
	}
	if path := os.Getenv("GEOCORIS_HOLD_ZONES"); path != "" {
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, zones), "the zones are not those of %s", path)
	}
}

// A request changes nothing of what it was given.
func TestARequestCanBeAskedTwice(t *testing.T) {
	q := morning(t, "week2")
	q.Settings.Rule, q.Settings.Stage = "sorghum-aphid-texas-mean", "boot"
	first, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	again, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, first.Files, again.Files)
}

// Files that a setting names and that did not come along are an error, not a default.
func TestAFileThatDidNotComeAlong(t *testing.T) {
	for _, c := range []struct {
		set  func(*engine.Settings)
		want string
	}{
		{func(o *engine.Settings) { o.Observers = "o.json" }, "--observers o.json: the file did not come along"},
		{func(o *engine.Settings) { o.Schema = "s.json" }, "--schema s.json: the file did not come along"},
		{func(o *engine.Settings) { o.Rules, o.Rule = "r.toml", "mine" }, "--rules r.toml: the file did not come along"},
	} {
		q := morning(t, "week2")
		c.set(&q.Settings)
		_, err := engine.Map(t.Context(), q)
		assert.EqualError(t, err, c.want)
	}
}
