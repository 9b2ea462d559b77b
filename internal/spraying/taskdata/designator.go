package taskdata

import (
	"fmt"
	"strings"
)

// maxText is the longest text that a terminal must take, in characters.
const maxText = 32

// leastName is how much of a field's name stands in the designator of its task at the
// least, in characters. Judgement, no source.
const leastName = 8

// text cuts a text to what fits, at a character's end; an empty one becomes its
// stand-in.
func text(s, standIn string) string {
	if s == "" {
		s = standIn
	}
	return cut(s, maxText)
}

func cut(s string, most int) string { return string([]rune(s)[:min(len([]rune(s)), most)]) }

// Designators are the names under which a terminal lists the tasks: a warning, where
// there is one, the field's name and what the task is besides, where that fits whole, separated by commas. All differ
// and fit: a name that is too long loses its middle, since names of fields often differ in
// how they end, and one that comes again gets a number.
func (p Prescription) Designators() []string {
	var d distinct
	for i, f := range p.Fields {
		before, behind := "", ""
		if f.Warning != "" {
			before = cut(f.Warning, maxText-leastName-2) + ", "
		}
		if f.Task != "" && len([]rune(before+", "+f.Task))+leastName <= maxText {
			behind = ", " + f.Task
		}
		d.add(before, f.called(i), behind)
	}
	return d.all
}

// fieldNames are the names of the fields as they are written: all differ and fit.
func (p Prescription) fieldNames() []string {
	var d distinct
	for i, f := range p.Fields {
		d.add("", f.called(i), "")
	}
	return d.all
}

func (f Field) called(i int) string {
	if name := strings.TrimSpace(f.Name); name != "" {
		return name
	}
	return fmt.Sprintf("field %d", i+1)
}

// distinct gathers texts that differ.
type distinct struct{ all []string }

func (d *distinct) add(before, name, behind string) {
	room := maxText - len([]rune(before)) - len([]rune(behind))
	said := before + shortened(name, room) + behind
	for n := 2; d.has(said); n++ {
		number := fmt.Sprintf("~%d", n)
		said = before + shortened(name, room-len(number)) + number + behind
	}
	d.all = append(d.all, said)
}

func (d *distinct) has(text string) bool {
	for _, one := range d.all {
		if strings.EqualFold(one, text) {
			return true
		}
	}
	return false
}

// shortened takes the middle out of a name of more than so many characters.
func shortened(name string, most int) string {
	const between = ".."
	r := []rune(name)
	if len(r) <= most {
		return name
	}
	kept := max(0, most-len(between))
	tail := kept / 3
	return string(r[:kept-tail]) + between + string(r[len(r)-tail:])
}
