package engine

import "github.com/geocoris/geocoris/internal/scouting/survey"

// ParseDay takes a day as people write it to ISO 8601.
func ParseDay(text string) (string, error) { return survey.ParseDay(text) }
