package jobsheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The sheet of all that a sheet may say is plain.
func TestTheSheetReadsEasily(t *testing.T) {
	var b strings.Builder
	require.NoError(t, busy(t).WriteHTML(&b))
	testkit.AssertReads(t, testkit.PageText(t, b.String()), 9, 25)
}
