package web_test

import (
	"fmt"
	"testing"
)

// Every screen in each size and scheme of colours, to be looked at.
func TestPhonePictures(t *testing.T) {
	p := newPhone(t)
	p.keep(begun(t, mean, 12)...)
	p.pictures("walk")
	p.tap("#here")
	p.shows("count")
	p.pictures("count-first")
	p.tap(`[data-guess="tens"]`)
	p.pictures("count-groups")
}

func (p phone) pictures(name string) {
	p.t.Helper()
	for _, scheme := range []string{"light", "dark"} {
		p.Media("screen", scheme)
		for _, width := range []int{360, 390, 768} {
			p.Size(width, 800)
			p.Picture(fmt.Sprintf("%s-%d-%s.png", name, width, scheme))
		}
	}
	p.Media("screen", "light")
	p.Size(390, 844)
}
