package cli

import (
	"os"

	"github.com/geocoris/geocoris/internal/engine"
)

// findMoved names the settings' files that a folder of map was made from by where they lie
// now, where the folder was moved. What flags name stays.
func (c *compareRun) findMoved(weeks []engine.Week) {
	for _, n := range c.mapped.NamedFiles() {
		if _, err := os.Stat(*n.Path); *n.Path == "" || !os.IsNotExist(err) || c.given.Changed(n.Setting) {
			continue
		}
		for _, w := range weeks {
			if w.Folder == nil {
				continue
			}
			if now, ok := w.Folder.Where(*n.Path); ok {
				*n.Path = now
				break
			}
		}
	}
}
