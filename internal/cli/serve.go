package cli

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"runtime"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/internal/web/serve"
)

// serveOptions are what belongs to serve.
type serveOptions struct {
	folder string // "" for none
	port   int
	noOpen bool
	season string // the address of a database; "" for the file in the folder
	data   dataOptions
}

func newServe(s Streams) *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use:   "serve [FOLDER]",
		Short: "Open the page for a laptop: drop files, see the answer, hand it over",
		Long: `serve opens a page in the browser of this laptop. Drop counts and boundaries onto it,
and see what could not be read, the answer and the map. Take the files for the
applicator with you. With a FOLDER it offers the files in it and keeps the season
there, in season.gpkg, or in the database of --season. The page shows the command that
does the same.

It works without a connection. Nobody but this machine can reach it, and no other
page in the browser. Its address has a secret in it that is new at each start.
Ctrl-C ends it. On Windows and macOS a double click on the program does the same, over
the folder that it lies in.

With --features it shows a season to map programs instead, as OGC API – Features. They
read its fields, stops, zones, verdicts and treatments as they were kept. With
--listen other machines reach it, and are asked for a token as the password. What goes
to and fro is not encrypted: use it in a network that you trust.`,
		Example: `  geocoris serve trial
  geocoris serve trial --port 8080 --no-open
  geocoris serve trial --season postgres://scout_a@office.example/season
  geocoris serve --features season.gpkg --port 8080`,
		Args: takes(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				o.folder = args[0]
			}
			if o.data.season != "" || o.data.address != "" || o.data.tokenFile != "" {
				return runServeFeatures(cmd.Context(), s, o)
			}
			return runServe(cmd.Context(), s, o)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&o.season, "season", "", "`address` of the database that keeps the season, postgres://USER@HOST/DATABASE (season.gpkg in the folder)")
	cmd.Flags().IntVar(&o.port, "port", 0, "`number` of the port (one that is free)")
	cmd.Flags().BoolVar(&o.noOpen, "no-open", false, "print the address and open no browser")
	o.data.flags(cmd.Flags())
	return cmd
}

func runServe(ctx context.Context, s Streams, o serveOptions) error {
	switch {
	case o.season != "" && !engine.InDatabase(o.season):
		return usageError{errors.New("--season: want the address of a database, postgres://USER@HOST/DATABASE; a season.gpkg is found in its FOLDER")}
	case o.season != "" && o.folder == "":
		return usageError{errors.New("--season goes with a FOLDER, for the files and what is made of them")}
	}
	desk := call.Desk{Version: version(), Seasons: seasonFiles{}, Memory: call.NewMemory()}
	if o.folder != "" {
		folder, err := openDesk(o.folder)
		if err != nil {
			return err
		}
		defer folder.root.Close()
		folder.season = o.season
		desk.Folder = folder
	}
	server, err := serve.Listen(ctx, serve.Site{Page: web.App(), Entry: web.DeskEntry, Answer: desk.Answer}, o.port)
	if err != nil {
		return hintedError{err, "choose another --port, or none for one that is free"}
	}
	if _, err := fmt.Fprintf(s.Out, "The page: %s\nCtrl-C ends it.\n", server.Address()); err != nil {
		return err
	}
	if !o.noOpen {
		if err := openPage(server.Address()); err != nil {
			fmt.Fprintf(s.Err, "note: no browser could be opened (%v): open the address yourself\n", err)
		}
	}
	return server.Run(ctx)
}

// openPage opens an address in the browser of whoever is logged in.
func openPage(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go func() { _ = cmd.Wait() }() // it may live as long as the browser
	return nil
}
