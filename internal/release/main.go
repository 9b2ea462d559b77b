// Command release puts programs that were built together for people to get: an archive for
// each system with the licences of all parts, a bill of materials, and checksums. The same
// programs give the same bytes: archives hold no day, no machine and no order of chance.
//
//	release VERSION PROGRAMS SITE OUT
//
// PROGRAMS holds a folder for each system, such as linux-amd64, with the program in it; SITE
// is the page for phones as a folder; README.md and LICENSE are of the working folder.
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

func main() {
	if len(os.Args) != 5 {
		fmt.Fprintln(os.Stderr, "release: want VERSION PROGRAMS SITE OUT")
		os.Exit(2)
	}
	r := release{version: os.Args[1], programs: os.Args[2], site: os.Args[3], out: os.Args[4]}
	if err := r.make(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// A release is what goes out under one version.
type release struct{ version, programs, site, out string }

func (r release) make(ctx context.Context) error {
	systems, err := foldersIn(r.programs)
	if err != nil {
		return err
	}
	var programs []string
	for _, system := range systems {
		names, err := os.ReadDir(filepath.Join(r.programs, system))
		if err != nil {
			return err
		}
		for _, n := range names {
			programs = append(programs, filepath.Join(r.programs, system, n.Name()))
		}
	}
	parts, err := partsOf(programs)
	if err != nil {
		return err
	}
	if err := addLicences(ctx, parts); err != nil {
		return err
	}
	about, err := r.about(parts)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(r.out, 0o755); err != nil {
		return err
	}
	for i, system := range systems {
		program, err := read(programs[i], filepath.Base(programs[i]), true)
		if err != nil {
			return err
		}
		if err := r.archive(system, append([]entry{program}, about...)); err != nil {
			return err
		}
	}
	return r.rest(parts, about)
}

// rest writes what is not of one system: the page for phones, the bill of materials, and the
// checksums of all files.
func (r release) rest(parts []*part, about []entry) error {
	site, err := filesIn(r.site)
	if err != nil {
		return err
	}
	if err := r.archive("site", append(site, about[1:]...)); err != nil {
		return err
	}
	bill, err := billOf(r.version, parts)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(r.out, "geocoris.cdx.json"), bill, 0o644); err != nil {
		return err
	}
	return writeSums(r.out)
}

// about is what lies beside every program: how to use it, and the licences of all parts.
func (r release) about(parts []*part) (files []entry, err error) {
	for _, name := range []string{"README.md", "LICENSE"} {
		f, err := read(name, name, false)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	return append(files, entry{name: "LICENCES-OF-PARTS.txt", content: licencesOf(parts)}), nil
}

func (r release) archive(of string, files []entry) error {
	packed, err := pack("geocoris-"+of, files)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(r.out, fmt.Sprintf("geocoris-%s-%s.zip", r.version, of)), packed, 0o644)
}

// foldersIn are the folders in a folder, by name.
func foldersIn(path string) (names []string, err error) {
	all, err := os.ReadDir(path)
	for _, e := range all {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	if err == nil && len(names) == 0 {
		err = fmt.Errorf("%s holds no programs", path)
	}
	return names, err
}
