//go:build !small

package call_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// What a file is goes by what is in it.
func TestLook(t *testing.T) {
	field, week := given(t, "", "field.geojson"), given(t, "", "week2.csv")
	for name, c := range map[string]struct {
		file    call.Given
		role    call.Role
		columns []string
		wrong   bool
	}{
		"a boundary":                 {field, call.Boundary, nil, false},
		"a boundary of another name": {call.Given{Name: "counts.csv", Content: field.Content}, call.Boundary, nil, false},
		"counts":                     {week, call.Counts, nil, false},
		"counts in other words":      {call.Given{Name: "a.csv", Content: []byte("wo;wieviel\n1;2\n")}, call.Counts, []string{"wo", "wieviel"}, true},
		"a picture":                  {call.Given{Name: "a.png", Content: []byte("\x89PNG\r\n\x1a\n")}, "", nil, true},
		"nothing":                    {call.Given{Name: "a.geojson"}, "", nil, true},
	} {
		reply := call.Desk{}.Answer(t.Context(), call.Call{Do: "look", Files: []call.Given{c.file}})
		require.Nil(t, reply.Error, name)
		text, err := json.Marshal(reply.Facts)
		require.NoError(t, err)
		var facts struct {
			Files []struct {
				Role    call.Role
				Columns []string
				Wrong   string
			}
		}
		require.NoError(t, json.Unmarshal(text, &facts))
		require.Len(t, facts.Files, 1)
		found := facts.Files[0]
		assert.Equal(t, c.role, found.Role, name)
		assert.Equal(t, c.wrong, found.Wrong != "", "%s: %s", name, found.Wrong)
		assert.ElementsMatch(t, c.columns, found.Columns, name)
	}
}

func TestUnpack(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range map[string]string{"TASKDATA/": "", "TASKDATA/TASKDATA.XML": "<x/>"} {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	reply := call.Desk{}.Answer(t.Context(), call.Call{Do: "unpack", Files: []call.Given{{Role: call.Archive, Name: "a.zip", Content: b.Bytes()}}})
	require.Nil(t, reply.Error)
	require.Len(t, reply.Files, 1)
	assert.Equal(t, "TASKDATA/TASKDATA.XML", reply.Files[0].Name)
	assert.Equal(t, "<x/>", string(reply.Files[0].Content))
	reply = call.Desk{}.Answer(t.Context(), call.Call{Do: "unpack", Files: []call.Given{{Role: call.Archive, Name: "a.zip", Content: b.Bytes()[:50]}}})
	require.NotNil(t, reply.Error)
}

// Without a folder the page says how to have one, and a phone's calls are answered as ever.
func TestADeskWithoutAFolder(t *testing.T) {
	for _, do := range []string{"take", "season", "weeks", "keep", "visit"} {
		reply := call.Desk{}.Answer(t.Context(), call.Call{Do: do})
		if assert.NotNil(t, reply.Error, do) {
			assert.Equal(t, "no folder was given: start it with geocoris serve FOLDER", reply.Error.Message, do)
		}
	}
	reply := call.Desk{}.Answer(t.Context(), call.Call{Do: "rules"})
	assert.Nil(t, reply.Error)
	reply = call.Desk{}.Answer(t.Context(), call.Call{Do: "spray"})
	require.NotNil(t, reply.Error)
	assert.Equal(t, `nothing is called "spray"`, reply.Error.Message)
}
