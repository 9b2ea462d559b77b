package engine

import "github.com/geocoris/geocoris/internal/scouting/survey"

// Columns are the columns of a file of counts by the names that it gives them.
func Columns(from Source) ([]string, error) { return survey.Columns(from) }
