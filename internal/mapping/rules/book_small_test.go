//go:build !small

package rules_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A small build reads the same rules, from JSON.
func TestTheRulesOfASmallBuildAreThePublishedOnes(t *testing.T) {
	b, err := rules.Published()
	require.NoError(t, err)
	text, err := json.Marshal(b.Rules)
	require.NoError(t, err)
	text = append(text, '\n')
	kept := testkit.Golden(t, "../../internal/mapping/rules/rules.json", text)
	assert.Equal(t, string(text), string(kept), "run with -update")
	var read []rules.Rule
	require.NoError(t, json.Unmarshal(kept, &read))
	assert.Equal(t, b.Rules, read)
}
