package engine_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// A folder whose summary answers otherwise than this version does gets no page that
// would contradict it; one without an answer, or with the same, gets its page.
func TestNoPageContradictsItsFolder(t *testing.T) {
	made, err := engine.Map(t.Context(), morning(t, "week2"))
	require.NoError(t, err)
	summary := content(t, made.Files, "summary.json")
	now := made.Verdicts[0].Kind.String()
	load := func(path string) (engine.Source, error) {
		if name, ours := strings.CutPrefix(path, "out/"); ours {
			return engine.Source{Name: path, Content: content(t, made.Files, name)}, nil
		}
		return source(t, path), nil
	}
	page := func(summary []byte) error {
		_, err := engine.Report(t.Context(), engine.ReportRequest{
			Folder: engine.MapFolder{
				Name:    "out",
				Run:     engine.Source{Name: "out/run.json", Content: withoutDigests(t, content(t, made.Files, "run.json"))},
				Summary: engine.Source{Name: "out/summary.json", Content: summary},
				Load:    load,
			},
			Write: engine.WriteSettings{Write: []string{"report"}},
		})
		return err
	}
	require.NoError(t, page(summary))
	const then = "of another time"
	old := bytes.Replace(summary, []byte(`"verdict": "`+now+`"`), []byte(`"verdict": "`+then+`"`), 1)
	require.NotEqual(t, summary, old)
	err = page(old)
	assert.EqualError(t, err, "out was mapped by an earlier version that answers otherwise for "+made.Verdicts[0].Field+" (then: "+then+", now: "+now+")")
	var refusal engine.HintedError
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "map again", refusal.Hint)
	assert.NoError(t, page([]byte(`{"fields":[{"field":"`+made.Verdicts[0].Field+`"}]}`)))
}

// withoutDigests is a record as earlier versions wrote it.
func withoutDigests(t *testing.T, record []byte) []byte {
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(record, &all))
	delete(all, "outputs")
	text, err := json.Marshal(all)
	require.NoError(t, err)
	return text
}
