package folder

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// sayLeft tells of folders that a run which was killed left beside a folder or in it.
// They are not touched: who misses a file finds it there.
func (w Writer) sayLeft(parent, path string) {
	base := filepath.Base(path)
	if kept := keptOf(path); isThere(kept) && !alive(kept) && (w.Kept == nil || w.Kept.folder != kept) {
		w.say("%s holds what a run that was stopped had worked out: the same command goes on from it with --resume; or delete it", kept)
	}
	for _, left := range append(leftIn(parent, base), leftIn(path, "")...) {
		if alive(left) {
			continue
		}
		names, missed := heldBy(left, path)
		switch {
		case len(missed) > 0:
			w.say("%s was left by a run that was broken off, and holds %s, which %s does not: move back what you miss, then delete it", left, some(missed), path)
		case len(names) > 0:
			w.say("%s was left by a run that was broken off, and holds %s: take out what you miss, then delete it", left, some(names))
		default:
			w.say("%s was left by a run that was broken off, and holds nothing: it can be deleted", left)
		}
	}
}

func isThere(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// leftIn finds what is left in a place and belongs to the folder base there, or to
// the place itself where base is "". Earlier versions named it by a number alone.
func leftIn(place, base string) (found []string) {
	id := regexp.MustCompile(`^[0-9a-f]+$`)
	entries, _ := os.ReadDir(place)
	for _, e := range entries {
		rest, own := strings.CutPrefix(e.Name(), prefix)
		if !own || !e.IsDir() {
			continue
		}
		i := strings.LastIndex(rest, "-")
		of := rest[:max(i, 0)]
		if !id.MatchString(rest[i+1:]) || of != short(base) && of != "" && of+"-" != strings.TrimPrefix(ready, prefix) {
			continue
		}
		if base != "" && of != short(base) && alive(place) { // a run is at work on the place itself
			continue
		}
		found = append(found, filepath.Join(place, e.Name()))
	}
	return found
}

// short is the beginning of a name, such that another name that begins with it is not
// too long for any system.
func short(base string) string {
	const longest = 80
	return strings.ToValidUTF8(base[:min(len(base), longest)], "")
}

// heldBy are the files in a folder that was left, and those that are nowhere else.
func heldBy(left, path string) (names, missed []string) {
	for _, part := range []string{"", newPart, oldPart} {
		entries, _ := os.ReadDir(filepath.Join(left, part))
		for _, e := range entries {
			if e.IsDir() || e.Name() == list {
				continue
			}
			names = append(names, e.Name())
			if _, err := os.Lstat(filepath.Join(path, e.Name())); err != nil {
				missed = append(missed, e.Name())
			}
		}
	}
	return names, missed
}

// some names a few of many.
func some(names []string) string {
	const most = 6
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
