//go:build !small

package keyed

import "github.com/pelletier/go-toml/v2"

// Encode writes names and values as [File.Decode] reads them, by the order of the names,
// a table below the others. Numbers without a part of one are written whole.
func Encode(values map[string]any) ([]byte, error) { return toml.Marshal(wholeIn(values)) }

func wholeIn(values map[string]any) map[string]any {
	out := map[string]any{}
	for name, value := range values {
		switch v := value.(type) {
		case map[string]any:
			out[name] = wholeIn(v)
		case float64:
			if whole := int64(v); float64(whole) == v && -1e15 < v && v < 1e15 {
				out[name] = whole
				continue
			}
			out[name] = v
		default:
			out[name] = v
		}
	}
	return out
}
