//go:build !small

package recall_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/recall"
)

type inner struct {
	Of   [2]float64
	List []int
}

type all struct {
	Yes        bool
	Class      uint8
	Minus      int
	Text       string
	None, Some *float64
	Nil, Empty []string
	Deep       [][]inner
	inner
	Inner  inner
	hidden func()
}

// What was kept comes back to the bit: not a number, minus nothing, nil beside empty.
func TestWhatIsPackedComesBackToTheBit(t *testing.T) {
	zero := math.Copysign(0, -1)
	is := all{
		Yes: true, Class: 255, Minus: math.MinInt, Text: "Süd", Some: &zero, Empty: []string{}, hidden: func() {},
		Deep: [][]inner{nil, {}, {{Of: [2]float64{math.Inf(-1), 0.1}, List: []int{-1, 3}}}}, Inner: inner{List: []int{}},
	}
	packed, err := recall.Pack(is)
	require.NoError(t, err)
	var got all
	require.NoError(t, recall.Unpack(packed, &got))
	is.hidden = nil // which is not exported
	assert.Equal(t, is, got)
	assert.Nil(t, got.Nil)
	assert.NotNil(t, got.Empty)
	assert.True(t, math.Signbit(*got.Some))
	odd := math.Float64frombits(0x7ff8000000000123) // a NaN of its own
	packed, err = recall.Pack(odd)
	require.NoError(t, err)
	var back float64
	require.NoError(t, recall.Unpack(packed, &back))
	assert.Equal(t, math.Float64bits(odd), math.Float64bits(back))
}

// Bytes of something else, cut or longer, are an error and no panic.
func TestBrokenBytesAreNotUnpacked(t *testing.T) {
	packed, err := recall.Pack(all{Text: "a", Deep: [][]inner{{{List: []int{1, 2}}}}})
	require.NoError(t, err)
	for n := range packed {
		var got all
		assert.Error(t, recall.Unpack(packed[:n], &got), "%d of %d bytes", n, len(packed))
	}
	var got all
	assert.Error(t, recall.Unpack(append(packed, 0), &got))
	assert.Error(t, recall.Unpack([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01}, new([]int)))
}

// What would come back otherwise is refused.
func TestWhatCannotBeKeptIsRefused(t *testing.T) {
	for _, v := range []any{map[string]int{}, func() {}, struct{ V any }{1}, make(chan int)} {
		_, err := recall.Pack(v)
		assert.ErrorContains(t, err, "cannot be kept")
	}
}
