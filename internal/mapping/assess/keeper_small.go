//go:build small

package assess

import (
	"context"
	"fmt"
)

// A page maps few fields, and keeps nothing of them.
func (*Result) keeper(Settings) (k Keeper, err error) { return nil, nil }

// assessOne works out a field.
func (r *Result) assessOne(ctx context.Context, i int, s site, j job) error {
	f := r.Fields[i]
	if err := s.assess(ctx, f, j); err != nil {
		return fmt.Errorf("field %q: %w", s.field.Name, err)
	}
	return r.heard(f, j.set)
}
