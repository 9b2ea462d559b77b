package season

import "path/filepath"

// Name is what messages call a season, which is a file here.
func Name(path string) string { return filepath.Base(path) }

// Typed is a season as a command takes it.
func Typed(path string) string { return path }
