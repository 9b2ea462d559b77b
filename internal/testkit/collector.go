package testkit

import (
	"os"
	"runtime/debug"
)

// Tests are over soon and hold little: the garbage collector runs less often in them, which
// takes a tenth of their time away. A GOGC of one's own stands.
var _ = collectSeldom()

func collectSeldom() (done struct{}) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
	return
}
