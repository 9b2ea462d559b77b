package testkit

import (
	"os"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
)

// halted is a test that keeps how it ended.
type halted struct {
	testing.TB
	how string
}

func (e *halted) Skipf(string, ...any)  { e.how = "skipped"; runtime.Goexit() }
func (e *halted) Fatalf(string, ...any) { e.how = "failed"; runtime.Goexit() }
func (e *halted) Errorf(string, ...any) { e.how = "failed" }
func (e *halted) FailNow()              { runtime.Goexit() }

// endOf is how a test ends, "" where it runs to its end.
func endOf(t *testing.T, test func(testing.TB)) string {
	e, over := &halted{TB: t}, make(chan struct{})
	go func() {
		defer close(over)
		test(e)
	}()
	<-over
	return e.how
}

// Where a machine has Python and no GDAL, what needs both is skipped, and fails in CI alone.
func TestWhatIsMissingIsSkipped(t *testing.T) {
	for ci, want := range map[string]string{"": "skipped", "1": "failed"} {
		t.Setenv("GEOCORIS_CI", ci)
		assert.Equal(t, want, endOf(t, func(t testing.TB) { Python(t, "geocoris_has_no_such.module", "-c", "0") }), "a module")
		assert.Equal(t, want, endOf(t, func(t testing.TB) { Program(t, nil, "geocoris-has-no-such-program") }), "a program")
	}
	if _, err := os.Stat(python); err != nil {
		Missing(t, python)
	}
	assert.Empty(t, endOf(t, func(t testing.TB) { Python(t, "json", "-c", "import json") }))
	assert.Equal(t, "failed", endOf(t, func(t testing.TB) { Python(t, "json", "-c", "import geocoris_has_no_such") }), "a module was there, and the program failed")
}
