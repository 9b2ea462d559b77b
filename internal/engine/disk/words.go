package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Words are what is wrong with a file, as people say it.
type Words struct {
	Text string // of the whole error; the error's own where no file is to blame
	Near string // the file beside it that was meant; "" where none is near
	Hint string // how to fix it, where that is known
}

// InWords says an error of the system as people say it: which file, and what is wrong with
// it. All else that the error tells stays.
func InWords(err error) Words {
	path, part := "", ""
	var one *fs.PathError
	var two *os.LinkError
	switch {
	case errors.As(err, &one):
		path, part = one.Path, one.Error()
	case errors.As(err, &two):
		path, part = two.New, two.Error()
	case errors.Is(err, syscall.ENOSPC): // what is printed has no name
		return Words{Text: strings.Replace(err.Error(), syscall.ENOSPC.Error(), "the disk is full", 1), Hint: makeRoom}
	default:
		return Words{Text: err.Error()}
	}
	said, hint := wordsOn(path, err)
	if said == "" {
		return Words{Text: err.Error()}
	}
	return Words{strings.Replace(err.Error(), part, said, 1), nearTo(path, err), hint}
}

const makeRoom = "make room, then run it again"

// wordsOn is what is wrong with a path, and how to fix it; "" where no words are known.
func wordsOn(path string, err error) (said, hint string) {
	name := short(path)
	switch about, no := os.Stat(path); {
	case errors.Is(err, fs.ErrNotExist) && nearAddress(path):
		return name + " is not there", "if it is the address of a database, begin it with postgres://"
	case errors.Is(err, fs.ErrNotExist):
		if folder := filepath.Dir(path); !isFolder(folder) {
			return fmt.Sprintf("%s is not there, nor is its folder", name), "check the folder's name"
		}
		return name + " is not there", "check its name, and the folder that it lies in"
	case errors.Is(err, fs.ErrPermission):
		return name + " may not be opened or written", "ask for the right to it, or work on a copy in a folder of your own"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return name + ": the name is too long", "give it a shorter one"
	case errors.Is(err, syscall.ENOTDIR) && no == nil && !about.IsDir():
		return name + " is a file, not a folder", "name the folder"
	case errors.Is(err, syscall.ENOTDIR):
		return name + " is not there: a part of its path is a file, not a folder", "check its name, and the folder that it lies in"
	case errors.Is(err, syscall.EISDIR):
		return name + " is a folder, not a file", "name the file in it"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return name + ": the disk is full", makeRoom
	case errors.Is(err, syscall.EROFS):
		return name + ": nothing can be written on this disk", "choose a folder on another"
	case errors.Is(err, syscall.EIO):
		return name + " cannot be read or written: the disk or stick seems damaged", "copy the file to another disk"
	case errors.Is(err, syscall.ELOOP):
		return name + " is a link that leads to itself", "name the file itself"
	}
	return "", ""
}

// nearAddress reports whether a path begins as the address of a database nearly does.
func nearAddress(path string) bool {
	scheme, rest, is := strings.Cut(path, "/")
	switch scheme, marked := strings.CutSuffix(strings.ReplaceAll(scheme, ";", ":"), ":"); {
	case !is, !marked && !strings.HasPrefix(rest, "/"):
		return false
	case survey.Meant(scheme, []string{"postgres"}) != "", survey.Meant(scheme, []string{"postgresql"}) != "":
		return true
	default:
		return slices.Contains([]string{"pg", "pgsql", "psql", "postgis"}, strings.ToLower(scheme))
	}
}

// mostShown is how much of a path stands in a message, in letters.
const mostShown = 120

func short(path string) string {
	if letters := []rune(path); len(letters) > mostShown {
		return string(letters[:mostShown]) + "…"
	}
	return path
}

func isFolder(path string) bool {
	about, err := os.Stat(path)
	return err == nil && about.IsDir()
}

// nearTo is the file that lies where a path leads to and is called nearly so.
func nearTo(path string, err error) string {
	if !errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	beside, _ := os.ReadDir(filepath.Dir(path)) // where there is none, none is near
	var names []string
	for _, e := range beside {
		names = append(names, e.Name())
	}
	near := survey.Meant(filepath.Base(path), names)
	if near == "" {
		return ""
	}
	return filepath.Join(filepath.Dir(path), near)
}

// NearSeason is the season that lies beside a path where nothing is yet, and is called nearly
// so; "" for none.
func NearSeason(path string) string {
	if season.IsAddress(path) {
		return ""
	}
	_, err := os.Stat(path)
	if near := nearTo(path, err); near != "" && season.Is(near) {
		return near
	}
	return ""
}

// noFolder refuses the path of a season that is a folder, or that lies in none.
func noFolder(path string) error {
	if season.IsAddress(path) {
		return nil
	}
	about, err := os.Stat(path)
	switch {
	case err == nil && about.IsDir():
		return aFolder(path, "season.gpkg")
	case errors.Is(err, fs.ErrNotExist) && isFolder(filepath.Dir(path)):
		return nil // a season may be made there
	}
	return err
}
