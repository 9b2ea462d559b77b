package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/web/call"
)

// deskFolder is the folder of a page: the files in it that something here reads, and its
// season. Nothing outside of it can be asked for.
type deskFolder struct {
	path   string
	root   *os.Root
	season string // the address of a database; "" for the file in the folder
}

func openDesk(path string) (*deskFolder, error) {
	if about, err := os.Stat(path); err == nil && !about.IsDir() {
		return nil, hintedError{fmt.Errorf("%s is a file, and a folder is wanted", path), "give the folder that the files lie in"}
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, hintedError{err, "give the folder that the files lie in"}
	}
	return &deskFolder{path: path, root: root}, nil
}

// Name is what the folder is called, also where it was given as a dot.
func (f *deskFolder) Name() string {
	if whole, err := filepath.Abs(f.path); err == nil {
		return filepath.Base(whole)
	}
	return filepath.Base(f.path)
}

// readable are the endings of files that something here reads.
var readable = []string{".csv", ".tsv", ".xlsx", ".geojson", ".json", ".kml", ".kmz", ".gpx", ".zip", ".gpkg"}

func isReadable(name string) bool {
	return slices.Contains(readable, strings.ToLower(filepath.Ext(name)))
}

// mostListed bounds the list of a folder.
const mostListed = 500

// List are the files in the folder itself.
func (f *deskFolder) List() (all []call.Lying, err error) {
	entries, err := os.ReadDir(f.path)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if len(all) == mostListed {
			break
		}
		if !isReadable(e.Name()) || e.Name() == seasonName {
			continue
		}
		if about, err := f.root.Stat(e.Name()); err == nil && about.Mode().IsRegular() {
			all = append(all, call.Lying{Name: e.Name(), Bytes: about.Size()})
		}
	}
	return all, nil
}

// Load is a file that lies in the folder itself.
func (f *deskFolder) Load(name string) (engine.Source, error) {
	if name != filepath.Base(name) || name == "." || name == ".." {
		return engine.Source{}, errors.New("want the name of a file in the folder")
	}
	if !isReadable(name) {
		return engine.Source{}, errors.New("is no file that the page reads")
	}
	if about, err := f.root.Stat(name); err != nil {
		return engine.Source{}, err
	} else if !about.Mode().IsRegular() { // opening a pipe would wait
		return engine.Source{}, errors.New("is no file")
	}
	in, err := f.root.Open(name)
	if err != nil {
		return engine.Source{}, err
	}
	defer in.Close()
	return disk.LoadStream(name, in)
}

// Change makes files in the folder, all of them or none. What stands under a name and is
// no plain file of the folder is an error, so that nothing is written through a link.
func (f *deskFolder) Change(ctx context.Context, files func(there func(name string) (*engine.Source, error)) ([]engine.File, error)) error {
	return folder.Writer{}.Update(ctx, f.path, func() (change folder.Change, err error) {
		made, err := files(f.there)
		if err != nil {
			return change, err
		}
		return folder.Change{Files: outputs(outFiles(made)), Stay: true}, nil
	})
}

// there is a file of the folder; nil for none.
func (f *deskFolder) there(name string) (*engine.Source, error) {
	about, err := f.root.Lstat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !about.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file", name)
	}
	content, err := f.root.ReadFile(name)
	return &engine.Source{Name: name, Content: content}, err
}

const seasonName = "season.gpkg"

// Season is where the season of the folder is, or would be. One that is a link out of the
// folder is an error.
func (f *deskFolder) Season() (path string, there bool, err error) {
	if f.season != "" {
		return f.season, true, nil
	}
	path = filepath.Join(f.path, seasonName)
	about, err := f.root.Stat(seasonName)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return path, false, nil
	case err != nil:
		err = fmt.Errorf("%s leads out of the folder, or cannot be read: %w", seasonName, err)
		return "", false, engine.HintedError{Err: err, Hint: "put the file itself into the folder"}
	case !about.Mode().IsRegular():
		return "", false, fmt.Errorf("%s is no file", seasonName)
	}
	return path, disk.IsSeason(path), nil
}

// seasonFiles opens seasons for a page.
type seasonFiles struct{}

func (seasonFiles) Open(path string) (call.SeasonFile, error) { return disk.OpenSeason(path) }

func (seasonFiles) OpenToAdd(path string) (engine.SeasonWriter, func() error, error) {
	return disk.OpenSeasonToAdd(path)
}

// Bring opens a season that came along as bytes, in a file of its own until it is closed.
func (seasonFiles) Bring(content []byte) (call.SeasonFile, error) {
	room, err := os.MkdirTemp("", "geocoris-season-")
	if err != nil {
		return nil, err
	}
	path := filepath.Join(room, seasonName)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		return nil, errors.Join(err, os.RemoveAll(room))
	}
	if !disk.IsSeason(path) {
		return nil, errors.Join(fmt.Errorf("this is no season"), os.RemoveAll(room))
	}
	file, err := disk.OpenWholeSeason(path)
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(room))
	}
	return broughtSeason{file, room}, nil
}

type broughtSeason struct {
	call.SeasonFile
	room string
}

func (b broughtSeason) Close() error { return errors.Join(b.SeasonFile.Close(), os.RemoveAll(b.room)) }
