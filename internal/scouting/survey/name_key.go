package survey

import (
	"fmt"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// NameKey folds a name, so that two ways of writing it are one: without regard to case and
// spaces, and to whether a letter with its accent is one sign or two (Unicode Standard
// Annex 15, form C), as some systems write the second.
func NameKey(name string) string { return norm.NFC.String(strings.ToLower(plainName(name))) }

// SameName reports whether two names are written alike, with their case.
func SameName(a, b string) bool { return plainName(a) == plainName(b) }

// plainName folds what cannot be seen in a name, and leaves its case.
func plainName(name string) string {
	return strings.Join(strings.Fields(norm.NFC.String(name)), " ")
}

// Named is the place of a name among others, as [Names.Find] has it.
func Named(name string, among []string) (at int, err error) { return NewNames(among).Find(name) }

// Names finds names among many.
type Names struct {
	all    []string
	plain  map[string]int   // the first that is written so
	folded map[string][]int // by [NameKey]
}

// NewNames is for names to be found among these.
func NewNames(all []string) *Names {
	n := &Names{all, make(map[string]int, len(all)), make(map[string][]int, len(all))}
	for i, name := range all {
		if _, known := n.plain[plainName(name)]; !known {
			n.plain[plainName(name)] = i
		}
		key := NameKey(name)
		n.folded[key] = append(n.folded[key], i)
	}
	return n
}

// Find is the place of the name that is meant: of the one that is written alike, else of the
// one that is the same by [NameKey]; -1 where there is none. Where several are the same but
// for their case, and the name is none of them, that is an error that names them.
func (n *Names) Find(name string) (at int, err error) {
	if i, same := n.plain[plainName(name)]; same {
		return i, nil
	}
	alike := n.folded[NameKey(name)]
	switch len(alike) {
	case 0:
		return -1, nil
	case 1:
		return alike[0], nil
	}
	var names []string
	for _, i := range alike {
		names = append(names, n.all[i])
	}
	return -1, fmt.Errorf("%q can be %s: write it as the one that is meant", name, Listed(quoted(names)))
}
