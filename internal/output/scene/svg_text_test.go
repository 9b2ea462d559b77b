package scene_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/scene"
)

// A name with signs that XML does not know leaves a picture that can be read.
func TestSVGStaysWellFormed(t *testing.T) {
	const name = "Pi\x00vot\x1b[2J\ufffe \xff <b>&\"'"
	var b bytes.Buffer
	require.NoError(t, scene.WriteSVG(&b, scene.Scene{
		Title: name, Description: name, Width: 10, Height: 10,
		Layers: []scene.Layer{{Name: name, Items: []scene.Item{scene.Text{Text: name, Size: 3}}}},
	}))
	d, text := xml.NewDecoder(&b), ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if c, ok := token.(xml.CharData); ok {
			text += string(c)
		}
	}
	assert.Contains(t, text, "Pi\ufffdvot\ufffd[2J\ufffd \ufffd <b>&\"'")
}
