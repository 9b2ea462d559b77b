// Command build builds the engine for the page into the folder that the program embeds.
package main

import (
	"context"
	"fmt"
	"os"

	"github.com/geocoris/geocoris/internal/web"
)

func main() {
	e, err := web.Build(context.Background())
	if err == nil {
		err = e.Keep("built")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("built: %d bytes packed\n", len(e.Wasm))
}
