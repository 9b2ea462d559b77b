//go:build small

package engine

import "github.com/geocoris/geocoris/internal/mapping/assess"

// A page maps few fields, and keeps nothing of them.
func keepOf(MapRequest) (func(int) (Keep, error), error) { return nil, nil }

func (m *morning) keepIn(*assess.Settings, *bench) {}
