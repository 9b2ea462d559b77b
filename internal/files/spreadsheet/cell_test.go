package spreadsheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestFormulasStayText(t *testing.T) {
	for text, want := range map[string]string{
		"":              "",
		"Pivot":         "Pivot",
		"=1+1":          "'=1+1",
		"@SUM(A1)":      "'@SUM(A1)",
		"+cmd|' /C x'!": "'+cmd|' /C x'!",
		"-2+3":          "'-2+3",
		"-":             "'-",
		"\t=1":          "'\t=1",
		"\r=1":          "'\r=1",
		"-101.5":        "-101.5",
		"+3":            "+3",
		"-1e-7":         "-1e-7",
		"-1e999":        "'-1e999",
		"-Inf":          "'-Inf",
		"'=1":           "'=1",
		" =1":           " =1",
	} {
		assert.Equal(t, want, spreadsheet.Cell(text), "%q", text)
	}
	assert.Equal(t, []string{"a", "'=b", "-1"}, spreadsheet.Row("a", "=b", "-1"))
}

func TestCellsReadBack(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[=+@\t\r'-]?[=+@0-9a-z.-]{0,4}`).Draw(t, "text")
		if text != "" && text[0] == '\'' {
			return // an apostrophe of people's own before a formula is taken for ours
		}
		assert.Equal(t, text, spreadsheet.Text(spreadsheet.Cell(text)))
	})
}
