//go:build unix

package cli

import (
	"context"
	"encoding/json"
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// The folder gives what it lists: no other file, and nothing that is no file.
func TestThePageTakesWhatIsListed(t *testing.T) {
	desk := inDeskSeason(t)
	require.NoError(t, os.WriteFile("job.toml", []byte("a"), 0o600))
	require.NoError(t, os.Mkdir("x.csv", 0o700))
	require.NoError(t, syscall.Mkfifo("pipe.csv", 0o600))
	for _, name := range []string{"job.toml", "x.csv", "pipe.csv", "season.gpkg"} {
		done := make(chan call.Reply, 1)
		go func() {
			done <- desk.Answer(context.Background(), call.Call{Do: "take", Settings: json.RawMessage(`{"names":["` + name + `"]}`)})
		}()
		select {
		case reply := <-done:
			if assert.NotNil(t, reply.Error, name) {
				assert.Contains(t, reply.Error.Message, name)
			}
		case <-time.After(time.Minute):
			require.Fail(t, "it waits for "+name)
		}
	}
	reply, _ := factsOf(t, desk, "take", `{"names":["week1.csv"]}`)
	assert.Len(t, reply.Files, 1)
}
