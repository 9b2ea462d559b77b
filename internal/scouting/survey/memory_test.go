package survey_test

import (
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A mebibyte of input, however it is made, leaves no more than 64 behind.
func TestMemoryIsBoundedByTheInput(t *testing.T) {
	const mebibyte = 1 << 20
	const head = "stop,longitude,latitude,count\n"
	for name, text := range map[string]string{
		"rows":       head + strings.Repeat("A,1,2,3\n", mebibyte/8),
		"bad rows":   head + strings.Repeat(",,,\n", mebibyte/4) + strings.Repeat("x\n", 1000),
		"short rows": head + strings.Repeat("x\n", mebibyte/2),
		"commas":     head + strings.Repeat(",", mebibyte),
		"quotes":     head + strings.Repeat("\"\"\n", mebibyte/3),
		"blanks":     head + strings.Repeat("\n", mebibyte),
		"headers":    strings.Repeat("a,", mebibyte/2),
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			s, _ := decode(t, "c.csv", text, survey.Options{})
			runtime.GC()
			runtime.ReadMemStats(&after)
			runtime.KeepAlive(s)
			took := int64(after.HeapAlloc) - int64(before.HeapAlloc)
			assert.LessOrEqual(t, took, int64(64*mebibyte), "%d MiB", took/mebibyte)
		})
	}
}
