package verdict

import "slices"

// Lines are the names of the table's lines, in their order.
func Lines() (names []string) {
	for _, l := range table() {
		names = append(names, l.name)
	}
	return names
}

// DecideWithout decides as if the table lacked a line.
func DecideWithout(name string, f Figures, s Settings) Verdict {
	return decide(slices.DeleteFunc(table(), func(l line) bool { return l.name == name }), f, s)
}
