package cli

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/web/features"
	"github.com/geocoris/geocoris/internal/web/serve"
)

// dataOptions are what belongs to serve --features.
type dataOptions struct{ season, address, tokenFile string }

func (o *dataOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.season, "features", "", "show this `SEASON` to map programs, as OGC API – Features")
	f.StringVar(&o.address, "listen", "", "with --features, `address` to listen at, such as 0.0.0.0 for all networks (127.0.0.1)")
	f.StringVar(&o.tokenFile, "token-file", "", "with --features, `FILE` that holds the token (a new one, and none for this machine alone)")
}

func (o serveOptions) checkData() error {
	switch {
	case o.data.season == "":
		return usageError{errors.New("--listen and --token-file go with --features")}
	case o.folder != "":
		return usageError{errors.New("--features shows a season; leave the folder out")}
	case o.season != "":
		return usageError{errors.New("--season is for the page, and --features shows the season that it names: give --features the address alone")}
	case o.data.address != "" && net.ParseIP(o.data.address) == nil:
		return usageError{fmt.Errorf("--listen %q: want an address of numbers, such as 192.168.1.5 or 0.0.0.0", o.data.address)}
	}
	return nil
}

func runServeFeatures(ctx context.Context, s Streams, o serveOptions) error {
	if err := o.checkData(); err != nil {
		return err
	}
	token, err := tokenIn(o.data.tokenFile)
	if err != nil {
		return err
	}
	season, closeIt, err := disk.OpenSeasonToShow(o.data.season)
	if err != nil {
		return err
	}
	defer func() { _ = closeIt() }()
	server, err := serve.ListenData(ctx, serve.Data{Handler: features.Handler(titled(o.data.season), season), Address: o.data.address, Port: o.port, Token: token})
	if err != nil {
		return hintedError{err, "choose another --port, --listen or token"}
	}
	addresses := server.Addresses()
	fmt.Fprintf(s.Out, "The season, as OGC API – Features: %s\n", addresses[0])
	for _, also := range addresses[1:] {
		fmt.Fprintf(s.Out, "  or %s\n", also)
	}
	switch {
	case o.data.tokenFile != "":
		fmt.Fprintf(s.Out, "User: %s, password: what %s holds\n", serve.User, o.data.tokenFile)
	case server.Token() != "":
		fmt.Fprintf(s.Out, "User: %s, password: %s\n", serve.User, server.Token())
	}
	if !server.Alone() {
		fmt.Fprintln(s.Err, "note: other machines reach it, and what goes to and fro is not encrypted")
	}
	if _, err := fmt.Fprintln(s.Out, "Ctrl-C ends it."); err != nil {
		return err
	}
	return server.Run(ctx)
}

// titled is what a season is called: a file without its ending, a database by its name alone.
func titled(season string) string {
	if shown := disk.ShownSeason(season); shown != season {
		return filepath.Base(shown)
	}
	return strings.TrimSuffix(filepath.Base(season), filepath.Ext(season))
}

// tokenIn is the token that a file holds, which no list of processes shows; "" for no file.
func tokenIn(path string) (string, error) {
	if path == "" {
		return "", nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	token := strings.TrimSpace(string(text))
	if token == "" || strings.ContainsAny(token, "\r\n\t ") {
		return "", hintedError{fmt.Errorf("%s: want one word, the token", path), "write a long random word into it"}
	}
	return token, nil
}
