package testkit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// PageText is the text of a page of HTML as people read it, a line for each block:
// without scripts, styles, pictures, sources cited, code and what is hidden, and without
// what is folded away at first, of which the summary alone is read.
func PageText(t testing.TB, page string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	var b strings.Builder
	readNode(&b, root)
	var lines []string
	for _, line := range strings.Split(b.String(), "\n") {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

func readNode(b *strings.Builder, n *html.Node) {
	if n.Type == html.TextNode {
		b.WriteString(strings.NewReplacer("\n", " ", "\r", " ").Replace(n.Data))
		return
	}
	if unread(n) {
		return
	}
	apart := n.Type == html.ElementNode && !inline(n.DataAtom)
	if apart {
		b.WriteByte('\n')
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		readNode(b, c)
	}
	if apart {
		b.WriteByte('\n')
	}
}

// unread reports whether an element is not read by people who look at the page.
func unread(n *html.Node) bool {
	switch n.DataAtom {
	case atom.Head, atom.Script, atom.Style, atom.Template, atom.Svg, atom.Textarea, atom.Code, atom.Pre, atom.Cite:
		return true
	}
	for _, a := range n.Attr {
		if a.Key == "hidden" {
			return true
		}
	}
	return n.DataAtom != atom.Summary && n.Parent != nil && n.Parent.DataAtom == atom.Details && !isOpen(n.Parent)
}

func isOpen(n *html.Node) bool {
	for _, a := range n.Attr {
		if a.Key == "open" {
			return true
		}
	}
	return false
}

// inline reports whether an element stands within a line.
func inline(a atom.Atom) bool {
	switch a {
	case atom.A, atom.Abbr, atom.B, atom.Em, atom.I, atom.Span, atom.Strong, atom.Small, atom.Sub, atom.Sup, atom.Time, atom.Output, atom.U, atom.Mark, atom.Var, atom.Kbd:
		return true
	}
	return false
}
