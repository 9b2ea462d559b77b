package main

import (
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"strings"
)

// billOf is a bill of materials: CycloneDX 1.5 (ECMA-424), package URLs for Go modules. It
// tells no day, so that it is the same for the same parts.
func billOf(version string, parts []*part) ([]byte, error) {
	type hash struct {
		Alg     string `json:"alg"`
		Content string `json:"content"`
	}
	type component struct {
		Type    string `json:"type"`
		Ref     string `json:"bom-ref"`
		Name    string `json:"name"`
		Version string `json:"version"`
		PURL    string `json:"purl"`
		Hashes  []hash `json:"hashes,omitempty"`
	}
	of := func(kind, path, version string) component {
		url := "pkg:golang/" + path + "@" + strings.ReplaceAll(version, "+", "%2B")
		return component{Type: kind, Ref: url, Name: path, Version: version, PURL: url}
	}
	main := of("application", "github.com/geocoris/geocoris", version)
	components, needs := []component{}, []string{}
	for _, p := range parts {
		c := of("library", p.path, p.version)
		// The sum of a module is the SHA-256 of the list of its files (go.sum, "h1:").
		if sum, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(p.sum, "h1:")); err == nil && len(sum) > 0 {
			c.Hashes = []hash{{"SHA-256", hex.EncodeToString(sum)}}
		}
		components, needs = append(components, c), append(needs, c.Ref)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(map[string]any{
		"bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
		"metadata": map[string]any{"component": main}, "components": components,
		"dependencies": []any{map[string]any{"ref": main.Ref, "dependsOn": needs}},
	})
	return b.Bytes(), err
}
