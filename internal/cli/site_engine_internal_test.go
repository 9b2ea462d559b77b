package cli

import (
	"context"
	"sync"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web"
)

// BuildOnce lets all tests share one engine for the page. To build it takes as long as all
// else here: outside CI they make do with one that only looks like it, as what is made of it
// is the same.
func BuildOnce() {
	build := sync.OnceValues(func() (web.Engine, error) {
		if testkit.Strict() {
			return web.Build(context.Background())
		}
		return web.Engine{Wasm: []byte("\x1f\x8bwasm"), Exec: []byte("exec();")}, nil
	})
	buildEngine = func(context.Context) (web.Engine, error) { return build() }
}
