package cli_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// A number of points that is offered is taken.
func TestAsManyPointsAsAreOfferedDo(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	offered := regexp.MustCompile(`(\d+) points do`)
	for _, few := range []string{"24", "12", "40"}[:testkit.Few(3, 1)] {
		args := []string{"handoff", "out", "--swath", "24m", "--sections", "12", "--out", "job", "--force", "--max-points"}
		code, _, errs = run(t, append(args, few)...)
		require.Equal(t, 1, code)
		many := offered.FindStringSubmatch(errs)
		require.NotNil(t, many, errs)
		code, _, errs = run(t, append(args, many[1])...)
		assert.Zero(t, code, "%s points: %s", many[1], errs)
	}
}
