package check_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/check"
	"github.com/geocoris/geocoris/internal/survey"
)

// A stop of five leaves is enough, one of four is named.
func TestLeastUnitsOfAStop(t *testing.T) {
	s, err := survey.ReadFiles([]string{survey.Stdin}, survey.Options{Stdin: strings.NewReader("stop,longitude,latitude,count,leaves\nfour,-101.6,35.9,3,4\nfive,-101.601,35.9,3,5\nten,-101.602,35.9,3,10\n")})
	require.NoError(t, err)
	r, err := check.Run(s, nil)
	require.NoError(t, err)
	require.Len(t, r.Findings, 1)
	assert.Equal(t, `-:2: leaves "4": stop four has fewer than 5 leaves; look at five plants or more a stop`, r.Findings[0].String())

	s, err = survey.ReadFiles([]string{survey.Stdin}, survey.Options{Stdin: strings.NewReader("stop,longitude,latitude,count,leaves\nA,-101.6,35.9,3,5\nB,-101.601,35.9,3,5\n")})
	require.NoError(t, err)
	r, err = check.Run(s, nil)
	require.NoError(t, err)
	assert.Empty(t, r.Findings)
}
