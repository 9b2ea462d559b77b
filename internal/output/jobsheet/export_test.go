package jobsheet

import (
	"github.com/geocoris/geocoris/internal/output/scene"
)

// PrintScenes are the pages as they go to the PDF.
func (s Sheet) PrintScenes() []scene.Scene { return s.scenes(true) }
