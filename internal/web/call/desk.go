//go:build !small

package call

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"

	"github.com/geocoris/geocoris/internal/engine"
)

// Roles of files that a laptop takes besides.
const (
	KeepOff Role = "keep-off" // ground that is never sprayed
	Season  Role = "season"   // a season's file
	Archive Role = "archive"  // a zip archive of ours
)

// A Desk answers on a laptop: what a phone asks for, and what needs a folder, spreadsheets
// or a season.
type Desk struct {
	Version string // of the program, for the records
	Folder  Folder // nil for none
	Seasons Seasons
	Memory  *engine.Memory // of all calls; nil for none
}

// A Folder is where the files of a laptop lie.
type Folder interface {
	Name() string
	List() ([]Lying, error)
	Load(name string) (engine.Source, error) // one of those listed
	// Season is the path of the folder's season, where there is one or would be; one that
	// lies outside of the folder is an error.
	Season() (path string, there bool, err error)
	// Change makes files in the folder, all of them or none, while nobody else writes
	// there. there is a file of the folder as it stands, nil where there is none.
	Change(ctx context.Context, files func(there func(name string) (*engine.Source, error)) ([]engine.File, error)) error
}

// Seasons opens seasons.
type Seasons interface {
	Open(path string) (SeasonFile, error)
	OpenToAdd(path string) (file engine.SeasonWriter, closeIt func() error, err error)
	Bring(content []byte) (SeasonFile, error) // one that came along; an error for what is none
}

// A SeasonFile is a season that is open to be read.
type SeasonFile interface {
	engine.SeasonReader
	Close() error
}

// Lying is a file that lies in the folder.
type Lying struct {
	Name  string `json:"name"`
	Bytes int64  `json:"bytes"`
}

// Answer does what is asked, as [Answer] does.
func (d Desk) Answer(ctx context.Context, c Call) Reply {
	answer := map[string]answerer{
		"folder":   d.folder,
		"take":     d.take,
		"unpack":   unpack,
		"look":     d.look,
		"check":    d.check,
		"map":      d.mapped,
		"handoff":  d.handoff,
		"season":   d.season,
		"weeks":    d.weeks,
		"keep":     d.keep,
		"visit":    d.shown,
		"record":   d.record,
		"sprayed":  d.sprayed,
		"keep-off": d.keepOff,
	}[c.Do]
	if answer == nil {
		answer = answers[c.Do]
	}
	c.Memory = d.Memory
	return answerBy(ctx, answer, c)
}

type folderFacts struct {
	Name    string         `json:"name"` // "" for none
	Files   []Lying        `json:"files"`
	Season  string         `json:"season"`  // its name, "" where there is none
	Sprayed []sprayedFacts `json:"sprayed"` // before, by the records that lie there
	// Named are the settings that name files, and so the roles that these may have.
	Named []string `json:"named"`
}

// sprayedFacts are a file of ground that was recorded as sprayed, and what to say of it where
// a job does not leave it out.
type sprayedFacts struct {
	Name string `json:"name"`
	Says string `json:"says"`
}

var errNoFolder = errors.New("no folder was given: start it with geocoris serve FOLDER")

func (d Desk) folder(context.Context, request) (any, []engine.File, error) {
	facts := folderFacts{Files: []Lying{}, Sprayed: []sprayedFacts{}, Named: named()}
	if d.Folder == nil {
		return facts, nil, nil
	}
	all, err := d.Folder.List()
	if err != nil {
		return nil, nil, err
	}
	facts.Name, facts.Files = d.Folder.Name(), append(facts.Files, all...)
	for _, f := range all {
		if engine.IsAppliedGround(path.Base(f.Name)) {
			facts.Sprayed = append(facts.Sprayed, sprayedFacts{f.Name, fmt.Sprintf(engine.SprayedAlready, f.Name) + "."})
		}
	}
	if season, there, err := d.Folder.Season(); err == nil && there {
		facts.Season = seasonOf(season)
	}
	return facts, nil, nil
}

func named() (names []string) {
	for _, n := range new(engine.Settings).NamedFiles() {
		names = append(names, n.Setting)
	}
	return names
}

// take gives files of the folder to the page.
func (d Desk) take(_ context.Context, r request) (any, []engine.File, error) {
	var o struct {
		Names []string `json:"names"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	if d.Folder == nil {
		return nil, nil, errNoFolder
	}
	all, err := d.Folder.List()
	if err != nil {
		return nil, nil, err
	}
	files := []engine.File{}
	for _, name := range o.Names {
		if !slices.ContainsFunc(all, func(l Lying) bool { return l.Name == name }) {
			return nil, nil, fmt.Errorf("%s: the folder lists no such file", name)
		}
		from, err := d.Folder.Load(name)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, err)
		}
		files = append(files, engine.File{Name: name, Content: from.Content})
	}
	return struct{}{}, files, nil
}

// mostUnpacked bounds what an archive may unpack to.
const mostUnpacked = 64 << 20

// unpack gives the files of an archive, so that a page can lay them onto a stick.
func unpack(_ context.Context, r request) (any, []engine.File, error) {
	from, err := r.one(Archive)
	if err != nil {
		return nil, nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(from.Content), int64(len(from.Content)))
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", from.Name, err)
	}
	files, left := []engine.File{}, int64(mostUnpacked)
	for _, f := range z.File {
		if f.FileInfo().IsDir() {
			continue
		}
		in, err := f.Open()
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %s: %w", from.Name, f.Name, err)
		}
		content, err := io.ReadAll(io.LimitReader(in, left+1))
		if err = errors.Join(err, in.Close()); err != nil {
			return nil, nil, fmt.Errorf("%s: %s: %w", from.Name, f.Name, err)
		}
		if left -= int64(len(content)); left < 0 {
			return nil, nil, fmt.Errorf("%s: more than %d MiB", from.Name, mostUnpacked>>20)
		}
		files = append(files, engine.File{Name: f.Name, Content: content})
	}
	return struct{}{}, files, nil
}
