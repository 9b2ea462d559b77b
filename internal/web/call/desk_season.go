//go:build !small

package call

import (
	"context"

	"github.com/geocoris/geocoris/internal/engine"
)

func (d Desk) season(context.Context, request) (any, []engine.File, error) {
	return nil, nil, errNoFolder
}
func (d Desk) weeks(context.Context, request) (any, []engine.File, error) {
	return nil, nil, errNoFolder
}
func (d Desk) keep(context.Context, request) (any, []engine.File, error) {
	return nil, nil, errNoFolder
}
