package recall_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/recall"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows its flags
)

// asking counts how often work is done.
type asking struct {
	memory *recall.Memory
	worked int
}

func (a *asking) of(t *testing.T, k *recall.Key, result string) string {
	t.Helper()
	got, err := recall.Of(a.memory, k, func() (string, error) { a.worked++; return result, nil })
	require.NoError(t, err)
	return got
}

func TestAResultIsWorkedOutOnce(t *testing.T) {
	a := &asking{memory: recall.New(2)}
	assert.Equal(t, "one", a.of(t, recall.For("map").Text("a").Numbers(1), "one"))
	assert.Equal(t, "one", a.of(t, recall.For("map").Text("a").Numbers(1), "two"))
	assert.Equal(t, 1, a.worked)
}

func TestWithoutAMemoryAllIsWorkedOut(t *testing.T) {
	a := &asking{}
	assert.Equal(t, "one", a.of(t, recall.For("map"), "one"))
	assert.Equal(t, "two", a.of(t, recall.For("map"), "two"))
}

// What differs in anything is another result.
func TestKeysTellAllApart(t *testing.T) {
	keys := []*recall.Key{
		recall.For("a"), recall.For("b"), recall.For("a").Text(""), recall.For("a").Text("", ""), recall.For("a").Text("ab", "c"), recall.For("a").Text("a", "bc"),
		recall.For("a").Numbers(0), recall.For("a").Numbers(math.Copysign(0, -1)), recall.For("a").Numbers(1), recall.For("a").Numbers(math.Nextafter(1, 2)),
		recall.For("a").Numbers(math.NaN()), recall.For("a").Bytes([]byte("abc")),
	}
	a := &asking{memory: recall.New(len(keys))}
	for range 2 {
		for i, k := range keys {
			assert.Equal(t, string(rune('a'+i)), a.of(t, k, string(rune('a'+i))))
		}
	}
	assert.Equal(t, len(keys), a.worked)
}

func TestTheOneNotAskedForLongestIsForgotten(t *testing.T) {
	a := &asking{memory: recall.New(2)}
	key := func(name string) *recall.Key { return recall.For("map").Text(name) }
	for _, name := range []string{"a", "b", "a", "c"} {
		a.of(t, key(name), name)
	}
	a.of(t, recall.For("other").Text("x"), "x") // another kind takes nobody's place
	a.worked = 0
	a.of(t, key("a"), "a")
	a.of(t, key("c"), "c")
	assert.Zero(t, a.worked)
	a.of(t, key("b"), "b")
	assert.Equal(t, 1, a.worked)
}

func TestErrorsAreNotKept(t *testing.T) {
	m := recall.New(1)
	_, err := recall.Of(m, recall.For("map"), func() (int, error) { return 0, errors.New("no") })
	require.Error(t, err)
	got, err := recall.Of(m, recall.For("map"), func() (int, error) { return 1, nil })
	require.NoError(t, err)
	assert.Equal(t, 1, got)
}
