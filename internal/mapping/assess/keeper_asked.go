//go:build !small

package assess

import (
	"context"
	"fmt"
)

// keeper is asked for what keeps the work of a result.
func (r *Result) keeper(set Settings) (Keeper, error) {
	if set.Keeper == nil {
		return nil, nil
	}
	return set.Keeper(r)
}

// assessOne works out a field, unless it was kept.
func (r *Result) assessOne(ctx context.Context, i int, s site, j job) error {
	f, keeper := r.Fields[i], j.keeper
	if keeper == nil || !f.Scouted() {
		keeper = keepsNothing{}
	}
	if known, err := keeper.Restore(i, f); known || err != nil {
		return err
	}
	if err := s.assess(ctx, f, j); err != nil {
		return fmt.Errorf("field %q: %w", s.field.Name, err)
	}
	if err := r.heard(f, j.set); err != nil {
		return err
	}
	return keeper.Keep(i, f)
}

type keepsNothing struct{}

func (keepsNothing) Restore(int, *Field) (bool, error) { return false, nil }
func (keepsNothing) Keep(int, *Field) error            { return nil }
