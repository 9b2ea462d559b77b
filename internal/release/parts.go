package main

import (
	"bytes"
	"context"
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// A part is a module that is linked into a program, or Go itself.
type part struct {
	path, version, sum string
	licences           []licence
}

type licence struct{ name, text string }

// partsOf are the modules of programs, each once, by path, Go first.
func partsOf(programs []string) (parts []*part, err error) {
	known := map[string]*part{}
	for _, program := range programs {
		info, err := buildinfo.ReadFile(program)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", program, err)
		}
		known[""] = &part{path: "std", version: strings.TrimPrefix(info.GoVersion, "go")}
		for _, m := range info.Deps {
			if m.Replace != nil {
				m = m.Replace
			}
			known[m.Path] = &part{path: m.Path, version: m.Version, sum: m.Sum}
		}
	}
	for _, p := range known {
		parts = append(parts, p)
	}
	slices.SortFunc(parts, func(a, b *part) int {
		if a.path == "std" || b.path == "std" {
			return map[bool]int{true: -1, false: 1}[a.path == "std"]
		}
		return strings.Compare(a.path, b.path)
	})
	return parts, nil
}

// licenceFile is what files with a licence are called.
var licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents)([-.].*)?$`)

// addLicences reads the licences of all parts. A part without one cannot be passed on.
func addLicences(ctx context.Context, parts []*part) error {
	for _, p := range parts {
		folder, err := folderOf(ctx, p)
		if err != nil {
			return err
		}
		files, err := os.ReadDir(folder)
		if err != nil {
			return err
		}
		for _, f := range files {
			if f.IsDir() || !licenceFile.MatchString(f.Name()) {
				continue
			}
			text, err := os.ReadFile(filepath.Join(folder, f.Name()))
			if err != nil {
				return err
			}
			p.licences = append(p.licences, licence{f.Name(), string(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")))})
		}
		if len(p.licences) == 0 {
			return fmt.Errorf("%s %s: no licence is found in %s", p.path, p.version, folder)
		}
	}
	return nil
}

// folderOf is where the source of a part lies on this machine.
func folderOf(ctx context.Context, p *part) (string, error) {
	args := []string{"list", "-m", "-json", p.path}
	if p.path == "std" {
		args = []string{"env", "GOROOT"}
	}
	out, err := exec.CommandContext(ctx, "go", args...).Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	if p.path == "std" {
		return strings.TrimSpace(string(out)), nil
	}
	var module struct{ Dir, Version string }
	if err := json.Unmarshal(out, &module); err != nil {
		return "", err
	}
	switch {
	case module.Dir == "":
		return "", fmt.Errorf("%s: its source is not on this machine", p.path)
	case module.Version != p.version:
		return "", errors.New(p.path + ": the program has " + p.version + ", go.mod " + module.Version)
	}
	return module.Dir, nil
}

// licencesOf are the licences of all parts in one text.
func licencesOf(parts []*part) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, "geocoris is linked from the parts below. Their licences ask that they go along with it.")
	for _, p := range parts {
		for _, l := range p.licences {
			fmt.Fprintf(&b, "\n%s\n%s %s: %s\n\n%s\n", strings.Repeat("=", 78), p.path, p.version, l.name, strings.TrimSpace(l.text))
		}
	}
	return b.Bytes()
}
