//go:build !small

package engine

import "context"

// Map zones fields into treat, watch and clear by a morning's counts. Where no row
// can be used the error is a [NothingUsable].
func Map(ctx context.Context, q MapRequest) (*MapOutcome, error) {
	return mapped(ctx, q, (*morning).besides)
}
