package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The short way to the zone of a time that a phone wrote finds what the pattern finds, and
// leaves all else to it.
func TestStampZone(t *testing.T) {
	for text, want := range map[string]int{
		"2026-07-14T06:00:12-05:00": -300, "2026-07-14T06:00:12+05:30": 330, "2026-07-14T06:00:12+00:00": 0,
		"2026-07-14T06:00:12-00:30": -30, "2026-07-14T06:00:12+14:00": 840,
	} {
		short, ok := stampZone(text)
		assert.True(t, ok, text)
		m := zoned().FindStringSubmatch(text)
		long, err := ParseUTCOffset(m[1])
		assert.NoError(t, err, text)
		assert.Equal(t, [2]int{want, want}, [2]int{short, long}, text)
	}
	for _, text := range []string{
		"", "2026-07-14", "2026-07-14T06:00:12Z", "2026-07-14 06:00:12-05:00", "2026-07-14T06:00:12.5-05:00", "2026-07-14T06:00:12-0500 ",
		"2026-07-14T06:00:12+14:01", "2026-07-14T06:00:12+15:00", "2026-07-14T06:00:12+05:60", "2026-07-14T06:0x:12+05:00", "2026-07-14T06:00:12:05:00",
		"2026-07-14T06:00:12−5:00",
	} {
		_, ok := stampZone(text)
		assert.False(t, ok, text)
	}
}
