package cli

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestErrorsDoNotSteerTheTerminal(t *testing.T) {
	var out, errs bytes.Buffer
	code := Run(context.Background(), []string{"map", "no\x1b]0;such\a.csv", "--field", "no\x1b]0;such\a.geojson", "--out", "out"}, Streams{Out: &out, Err: &errs})
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs.String(), `no\u001b]0;such\u0007.geojson`)
}
