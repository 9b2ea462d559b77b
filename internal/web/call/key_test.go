package call_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func keyed(t *testing.T, settings string) (names []string, facts map[string]any) {
	reply, facts := asked(t, "key", settings)
	require.Nil(t, reply.Error, settings)
	for _, s := range facts["species"].([]any) {
		if species := s.(map[string]any); len(species["against"].([]any)) == 0 {
			names = append(names, species["name"].(string))
		}
	}
	return names, facts
}

func TestKeyToAphids(t *testing.T) {
	fits, facts := keyed(t, `{}`)
	assert.Len(t, fits, 5)
	assert.Len(t, facts["marks"], 10)
	assert.Equal(t, false, facts["decided"])
	fits, facts = keyed(t, `{"seen":{"cornicles":"dark","patch":"none"}}`)
	assert.Equal(t, []string{"sorghum aphid"}, fits)
	assert.Equal(t, true, facts["decided"])
	greenbug := facts["species"].([]any)[2].(map[string]any)
	assert.Equal(t, "greenbug", greenbug["name"])
	assert.Equal(t, []any{"cornicles"}, greenbug["against"])
	_, facts = keyed(t, `{"seen":{"cornicles":"dark","patch":"none"},"form":"winged"}`)
	assert.Equal(t, false, facts["decided"], "only a wingless adult decides")
	_, facts = keyed(t, `{"seen":{"cornicles":"dark"}}`)
	assert.Contains(t, facts["look_at"], "patch")
	reply, _ := asked(t, "key", `{"seen":{"feet":"blue"}}`)
	assert.Contains(t, reply.Error.Message, `feet "blue"`)
}

// Every question and answer has its words in Spanish, and every species its name.
func TestKeyInSpanish(t *testing.T) {
	_, english := keyed(t, `{}`)
	_, spanish := keyed(t, `{"language":"es"}`)
	for i, m := range english["marks"].([]any) {
		in, es := m.(map[string]any), spanish["marks"].([]any)[i].(map[string]any)
		assert.NotEqual(t, in["question"], es["question"])
		assert.Equal(t, in["name"], es["name"])
		for k, a := range in["answers"].([]any) {
			es := es["answers"].([]any)[k].(map[string]any)
			assert.Equal(t, a.(map[string]any)["word"], es["word"])
			if es["word"] != "no" {
				assert.NotEqual(t, a.(map[string]any)["says"], es["says"])
			}
		}
	}
	for i, s := range english["species"].([]any) {
		assert.NotEqual(t, s.(map[string]any)["name"], spanish["species"].([]any)[i].(map[string]any)["name"])
	}
}
