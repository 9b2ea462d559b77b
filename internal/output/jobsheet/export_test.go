package jobsheet

import (
	"github.com/geocoris/geocoris/internal/output/scene"
)

// Scenes are the pages as they go to the PDF.
func (s Sheet) Scenes() []scene.Scene { return s.scenes() }
