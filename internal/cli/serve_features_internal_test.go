package cli

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// showing runs serve --features until the test ends, and gives what it printed up to the
// line that tells how to end it.
func showing(t *testing.T, args ...string) (printed []string) {
	t.Helper()
	ctx, end := context.WithCancel(t.Context())
	in, out := io.Pipe()
	var errs bytes.Buffer
	ended := make(chan int)
	go func() {
		ended <- Run(ctx, append([]string{"serve"}, args...), Streams{Out: out, Err: &errs})
		out.Close()
	}()
	t.Cleanup(func() {
		end()
		assert.Zero(t, <-ended, "%s", &errs)
	})
	lines := bufio.NewScanner(in)
	for lines.Scan() {
		printed = append(printed, lines.Text())
		if strings.HasPrefix(lines.Text(), "Ctrl-C") {
			return printed
		}
	}
	require.Fail(t, "it ended", "%v %s", printed, &errs)
	return nil
}

// addressIn is the address that a line tells.
func addressIn(t *testing.T, line string) string {
	t.Helper()
	_, address, ok := strings.Cut(line, ": http")
	require.True(t, ok, line)
	return "http" + address
}

func inSeasonOfDemo(t *testing.T) {
	t.Helper()
	inDemo(t)
	runsLine(t, "geocoris season add s.gpkg week2.csv --field field.geojson --author Anna")
	runsLine(t, "geocoris season add s.gpkg week3.csv --field field.geojson")
}

// Map programs find the zones with the ground that the season says they have, and the
// verdict of each field at each visit.
func TestASeasonIsShownToMapPrograms(t *testing.T) {
	inSeasonOfDemo(t)
	address := addressIn(t, showing(t, "--features", "s.gpkg")[0])
	text := testkit.Program(t, nil, "ogr2ogr", "-q", "-f", "GeoJSON", "/vsistdout/", "OAPIF:"+strings.TrimSuffix(address, "/"), "zones")
	zones, err := geofile.Decode("zones.geojson", strings.NewReader(text), geofile.Limits{})
	require.NoError(t, err)
	require.NotEmpty(t, zones.Features)
	for _, f := range zones.Features {
		hectares, ok := f.Properties.Number("area_ha")
		require.True(t, ok)
		assert.InEpsilon(t, hectares*1e4, given.Area(t, f), 1e-3)
	}
	text = testkit.Program(t, nil, "ogr2ogr", "-q", "-f", "GeoJSON", "/vsistdout/", "OAPIF:"+strings.TrimSuffix(address, "/"), "verdicts")
	verdicts, err := geofile.Decode("verdicts.geojson", strings.NewReader(text), geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, verdicts.Features, 4, "two fields at two visits")
	for _, f := range verdicts.Features {
		said, _ := f.Properties.Get("verdict")
		advice, _ := f.Properties.Get("advice")
		assert.NotEmpty(t, said)
		assert.NotEmpty(t, advice)
	}
}

// What was added by a program of format 4 is shown too; it has no verdicts.
func TestASeasonOfAnEarlierFormatIsShown(t *testing.T) {
	for format, want := range map[string]string{"format2.gpkg": "zones", "format4.gpkg": "treatments"} {
		address := addressIn(t, showing(t, "--features", testkit.Testdata(t, "season", format))[0])
		for _, layer := range []string{"fields", "stops", "zones", "verdicts", "treatments"} {
			answer, err := http.Get(address + "collections/" + layer + "/items")
			require.NoError(t, err)
			text, err := io.ReadAll(answer.Body)
			require.NoError(t, err)
			answer.Body.Close()
			require.Equal(t, 200, answer.StatusCode, "%s of %s: %s", layer, format, text)
			if layer == want {
				assert.Contains(t, string(text), `"type":"Feature",`)
			}
			if layer == "verdicts" {
				assert.Contains(t, string(text), `"numberMatched":0`)
			}
		}
	}
}

// A map program gives the token as a password, which is all that it can give.
func TestMapProgramsGiveTheTokenAsAPassword(t *testing.T) {
	inSeasonOfDemo(t)
	require.NoError(t, os.WriteFile("token", []byte("a-token-of-this-test\n"), 0o600))
	printed := showing(t, "--features", "s.gpkg", "--listen", "127.0.0.1", "--token-file", "token")
	assert.Equal(t, "User: geocoris, password: what token holds", printed[1])
	address := strings.TrimSuffix(addressIn(t, printed[0]), "/")
	answer, err := http.Get(address)
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, http.StatusUnauthorized, answer.StatusCode)
	out := testkit.Program(t, nil, "ogrinfo", "--config", "GDAL_HTTP_USERPWD", "geocoris:a-token-of-this-test", "-so", "OAPIF:"+address, "stops")
	assert.Contains(t, out, "Feature Count: 110")

	printed = showing(t, "--features", "s.gpkg", "--listen", "0.0.0.0")
	said := strings.Join(printed, "\n")
	assert.Regexp(t, `(?m)^User: geocoris, password: \w{20,}$`, said, "others reach it")
	assert.NotContains(t, said, "[::]", "no address that can be typed elsewhere")
	for _, line := range printed {
		if _, address, ok := strings.Cut(line, "http"); ok {
			answer, err := http.Get("http" + address)
			require.NoError(t, err, line)
			answer.Body.Close()
			assert.Equal(t, http.StatusUnauthorized, answer.StatusCode)
		}
	}
}

func TestServeFeaturesRefuses(t *testing.T) {
	inSeasonOfDemo(t)
	require.NoError(t, os.WriteFile("short", []byte("short\n"), 0o600))
	require.NoError(t, os.WriteFile("two", []byte("two words that are long enough\n"), 0o600))
	for line, want := range map[string]string{
		"--listen 0.0.0.0":    "go with --features",
		"--token-file short":  "go with --features",
		". --features s.gpkg": "leave the folder out",
		"--features s.gpkg --season postgres://scout@office.example/season": "give --features the address alone",
		"--features s.gpkg --listen office":                                 "want an address of numbers",
		"--features s.gpkg --token-file short":                              "want 16 or more",
		"--features s.gpkg --token-file two":                                "want one word",
		"--features s.gpkg --token-file none":                               "none",
		"--features none.gpkg":                                              "none.gpkg",
		"--features week1.csv":                                              "no GeoPackage",
		"--features s.gpkg --port 70000":                                    "want 1 to 65535",
		"--features s.gpkg --listen 203.0.113.1":                            "203.0.113.1",
	} {
		var out, errs bytes.Buffer
		code := Run(t.Context(), append([]string{"serve"}, strings.Fields(line)...), Streams{Out: &out, Err: &errs})
		assert.NotZero(t, code, line)
		assert.Contains(t, errs.String(), want, line)
		assert.Empty(t, out.String(), line)
	}
	assert.NoFileExists(t, "none.gpkg")
}
