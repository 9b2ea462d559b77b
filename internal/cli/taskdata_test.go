package cli_test

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// tasks is what a test looks at of task data.
type tasks struct {
	Customers []struct {
		A string `xml:"A,attr"`
		B string `xml:"B,attr"`
	} `xml:"CTR"`
	Farms []struct {
		A string `xml:"A,attr"`
		B string `xml:"B,attr"`
	} `xml:"FRM"`
	Products []struct {
		B string `xml:"B,attr"`
	} `xml:"PDT"`
	Tasks []struct {
		B    string `xml:"B,attr"`
		C    string `xml:"C,attr"`
		D    string `xml:"D,attr"`
		Grid []struct {
			I string `xml:"I,attr"`
			J string `xml:"J,attr"`
		} `xml:"GRD"`
	} `xml:"TSK"`
}

// tasksIn reads task data, after the checker of the reference folder did.
func tasksIn(t *testing.T, job string) (r tasks) {
	z, err := zip.OpenReader(filepath.Join(job, "TASKDATA.zip"))
	require.NoError(t, err)
	defer z.Close()
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "TASKDATA"), 0o755))
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(in)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.FromSlash(f.Name)), content, 0o644))
		if strings.HasSuffix(f.Name, ".XML") {
			require.NoError(t, xml.Unmarshal(content, &r))
		}
	}
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "taskdata.py"), filepath.Join(dir, "TASKDATA"))
	return r
}

// From the properties of the fields, or from flags, to the task data.
func TestWhoseFieldsAreSprayed(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	named := regexp.MustCompile(`("name": ?"Pivot")`).ReplaceAllString(string(text), `$1, "Grower": "Invented customer", "farm": "Invented farm"`)
	require.NotEqual(t, string(text), named)
	require.NoError(t, os.WriteFile("owned.geojson", []byte(named), 0o600))
	code, _, errs := run(t, "map", "week3.csv", "--field", "owned.geojson", "--out", "out", "--quiet")
	require.Zero(t, code, errs)
	handoff := []string{"handoff", "out", "--swath", "24m", "--rate", "140L/ha", "--product", "product A=3lb/ac", "--product", "product B=1L/ha", "--whole-field", "--against-verdict", "--quiet", "--force"}
	job := func(more ...string) tasks {
		code, _, errs := run(t, append(append(handoff, "--out", "job"), more...)...)
		require.Zero(t, code, errs)
		return tasksIn(t, "job")
	}
	r := job()
	require.NotEmpty(t, r.Tasks)
	assert.Equal(t, "Invented customer", r.Customers[0].B)
	assert.Equal(t, "Invented farm", r.Farms[0].B)
	assert.Equal(t, []string{"mix: product A, product B", "product A", "product B"}, []string{r.Products[0].B, r.Products[1].B, r.Products[2].B})
	assert.Contains(t, r.Tasks[0].B, "Pivot")
	seen := map[string]bool{}
	for i, task := range r.Tasks {
		assert.False(t, seen[task.B], task.B)
		seen[task.B] = true
		want := map[bool]string{true: r.Customers[0].A, false: r.Customers[len(r.Customers)-1].A}[i == 0]
		assert.Equal(t, want, task.C, "the field beside has no customer")
		assert.Empty(t, task.Grid)
	}
	r = job("--customer", "Another customer", "--farm", "Another farm", "--grid", "5m", "--grid-type", "2")
	require.Len(t, r.Customers, 1)
	assert.Equal(t, "Another customer", r.Customers[0].B)
	assert.Equal(t, "Another farm", r.Farms[0].B)
	for _, task := range r.Tasks {
		require.Len(t, task.Grid, 1)
		assert.Equal(t, []string{"2", "1"}, []string{task.Grid[0].I, task.Grid[0].J})
	}
	for flags, want := range map[string]string{"--grid-type 3 --grid 5m": "--grid-type 3: want 1 or 2", "--grid-type 2": "--grid-type 2 is of a grid: give --grid with the length of its cells, such as --grid 3m"} {
		code, _, errs := run(t, append(append(handoff, "--out", "job"), strings.Fields(flags)...)...)
		assert.Equal(t, 2, code)
		assert.Contains(t, errs, want)
	}
}
