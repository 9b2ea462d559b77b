//go:build small

package engine

import (
	"errors"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/plan"
)

// keepOffIn refuses files: on a phone nobody gives any.
func keepOffIn(_ *plan.Settings, _ geo.Field, files []KeepOff) (notes []string, err error) {
	if len(files) > 0 {
		err = errors.New("this program plans without ground to keep off")
	}
	return nil, err
}
