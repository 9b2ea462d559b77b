package web

import (
	"bytes"
	"compress/gzip"
	"context"
	"embed"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
)

// An Engine is what a page computes with.
type Engine struct {
	Wasm []byte // packed by gzip
	Exec []byte // JavaScript of the Go toolchain that runs it
}

// Names of the engine's files in the folder built.
const (
	wasmFile = "engine.wasm.gz"
	execFile = "wasm_exec.js"
)

//go:embed all:built
var built embed.FS

// Built is the engine that was built into the program; ok is false where none was.
func Built() (e Engine, ok bool) {
	wasm, err := built.ReadFile("built/" + wasmFile)
	if err != nil {
		return e, false
	}
	exec, err := built.ReadFile("built/" + execFile)
	return Engine{wasm, exec}, err == nil
}

// ErrNoSource is that neither the program has the engine in it, nor its source is at hand.
var ErrNoSource = errors.New("the engine for the page is not in this program, and cannot be built here")

// hot are the packages whose small functions are put in where they are called: those that
// compute node by node, or draw lots. In the others that makes the engine a twentieth larger
// and hardly anything faster; in Go's own runtime a map takes a tenth longer without, and the
// page would be larger than 3 MB with it.
var hot = []string{
	"internal/runtime/...", "internal/strconv", "unicode/utf8", "math", "math/bits", "math/rand/v2", "github.com/paulmach/orb", "gonum.org/v1/gonum/blas/...", "gonum.org/v1/gonum/lapack/...", "gonum.org/v1/gonum/internal/...", "gonum.org/v1/gonum/mat",
	module + "/interp", module + "/geo", module + "/internal/geometry/contour", module + "/internal/geometry/zones", module + "/internal/geometry/catch",
	module + "/internal/stat", module + "/internal/scouting/plan", module + "/internal/mapping/fieldstats",
}

const module = "github.com/geocoris/geocoris"

// buildFlags are those of the engine for go build.
func buildFlags() []string {
	flags := []string{"-tags", "small", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-gcflags", "all=-l"}
	for _, p := range hot {
		flags = append(flags, "-gcflags", p+"=")
	}
	return flags
}

// Build builds the engine by the Go toolchain at hand, from the source of the program.
func Build(ctx context.Context) (e Engine, err error) {
	tool, err := exec.LookPath("go")
	if err != nil {
		return e, fmt.Errorf("%w: no go command is at hand", ErrNoSource)
	}
	source, err := sourceOf(ctx, tool)
	if err != nil {
		return e, err
	}
	room, err := os.MkdirTemp("", "geocoris-page-")
	if err != nil {
		return e, err
	}
	defer os.RemoveAll(room)
	wasm := filepath.Join(room, "engine.wasm")
	cmd := exec.CommandContext(ctx, tool, slices.Concat([]string{"build"}, buildFlags(), []string{"-o", wasm, "./cmd/page"})...)
	cmd.Dir, cmd.Env = source, append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	if said, err := cmd.CombinedOutput(); err != nil {
		return e, fmt.Errorf("building the engine in %s: %w\n%s", source, err, bytes.TrimSpace(said))
	}
	raw, err := os.ReadFile(wasm)
	if err != nil {
		return e, err
	}
	if e.Wasm, err = packed(raw); err != nil {
		return e, err
	}
	root, err := output(ctx, source, tool, "env", "GOROOT")
	if err != nil {
		return e, err
	}
	e.Exec, err = os.ReadFile(filepath.Join(root, "lib", "wasm", execFile))
	return e, err
}

// packed packs bytes as well as gzip can, and the same on every run.
func packed(raw []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(raw); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

// sourceOf is the folder of the module that this program was built from: where it was
// built, or in the module cache.
func sourceOf(ctx context.Context, tool string) (string, error) {
	if _, file, _, ok := runtime.Caller(0); ok && filepath.IsAbs(file) {
		root := filepath.Dir(filepath.Dir(filepath.Dir(file)))
		if _, err := os.Stat(filepath.Join(root, "cmd", "page")); err == nil {
			return root, nil
		}
	}
	info, ok := debug.ReadBuildInfo()
	if !ok || !strings.HasPrefix(info.Main.Version, "v") {
		return "", fmt.Errorf("%w: its source is not at hand", ErrNoSource)
	}
	said, err := output(ctx, "", tool, "list", "-m", "-f", "{{.Dir}}", info.Main.Path+"@"+info.Main.Version)
	if err != nil || said == "" {
		return "", fmt.Errorf("%w: %s %s is not in the module cache", ErrNoSource, info.Main.Path, info.Main.Version)
	}
	return said, nil
}

func output(ctx context.Context, folder, tool string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, tool, args...)
	cmd.Dir = folder
	said, err := cmd.Output()
	return strings.TrimSpace(string(said)), err
}

// Keep writes the engine into a folder, for [Built] of the next build.
func (e Engine) Keep(folder string) error {
	return errors.Join(
		os.WriteFile(filepath.Join(folder, wasmFile), e.Wasm, 0o644),
		os.WriteFile(filepath.Join(folder, execFile), e.Exec, 0o644))
}
