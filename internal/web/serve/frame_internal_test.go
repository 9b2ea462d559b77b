package serve

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

func TestACallIsRead(t *testing.T) {
	text := `{"call":{"do":"map","settings":{"units":"us"},"files":[{"role":"counts","name":"a.csv"},{"role":"boundary","name":"b"},{"role":"boundary","name":"c"}]},"sizes":[4,0,2]}` + "\nab\nc\x00\xff"
	c, err := readCall(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, "map", c.Do)
	assert.JSONEq(t, `{"units":"us"}`, string(c.Settings))
	assert.Equal(t, []call.Given{{Role: call.Counts, Name: "a.csv", Content: []byte("ab\nc")}, {Role: call.Boundary, Name: "b", Content: []byte{}}, {Role: call.Boundary, Name: "c", Content: []byte{0, 0xff}}}, c.Files)
}

func TestFramesThatAreNone(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "the line of the call: EOF",
		aCall[:len(aCall)-1]:                 "the line of the call: EOF",
		"{\n":                                "the call: unexpected end of JSON input",
		aCall + "x":                          "more came than the call tells of",
		strings.Repeat("x", mostLine) + "\n": "the line of the call has more than 1048576 bytes",
		`{"call":{"do":"x","files":[{"role":"counts","name":"a"}]},"sizes":[]}` + "\n":                       "the call names 1 files and tells 0 sizes",
		`{"call":{"do":"x","files":[{"role":"counts","name":"a"}]},"sizes":[-1]}` + "\n":                     "a: a size below nothing",
		`{"call":{"do":"x","files":[{"role":"counts","name":"a"}]},"sizes":[9000000000000000000]}` + "\nabc": "a: 3 bytes of 9000000000000000000 came",
	} {
		_, err := readCall(strings.NewReader(text))
		assert.ErrorContains(t, err, want)
	}
}

func TestAReplyIsWritten(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, writeReply(&b, call.Reply{Facts: map[string]int{"a": 1}, Files: []call.Made{{Name: "x", Type: "t", Content: []byte("1\n")}, {Name: "y", Type: "t", Content: []byte("23")}}}))
	assert.Equal(t, `{"reply":{"facts":{"a":1},"files":[{"name":"x","type":"t"},{"name":"y","type":"t"}],"error":null},"sizes":[2,2]}`+"\n1\n23", b.String())

	b.Reset()
	require.ErrorIs(t, writeReply(&b, call.Reply{Facts: math.NaN()}), errNotSaid)
	assert.Empty(t, b.String())
}
