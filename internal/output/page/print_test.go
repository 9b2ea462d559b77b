package page_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/testkit"
)

// papers are what farms print on.
var papers = map[string]testkit.Paper{"a4": testkit.A4, "letter": testkit.Letter}

// The margin that the page asks for, and a point of rounding.
const pageMargin = 9/25.4*72 - 1

// shownWords are all words that are to be seen, SVG's too.
const shownWords = `(() => {
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), out = [], range = document.createRange();
	while (walk.nextNode()) {
		const parent = walk.currentNode.parentElement;
		range.selectNodeContents(walk.currentNode);
		// Text of SVG that is not shown has a place in its line all the same.
		if (!parent.closest("script, style") && range.getClientRects().length && (!parent.closest("svg") || parent.getBoundingClientRect().width)) out.push(walk.currentNode.data);
	}
	return out.join(" ");
})()`

// cutOff names the elements that hold more than they show.
const cutOff = `[document.documentElement, ...document.querySelectorAll("body, body *")].filter((e) => e instanceof HTMLElement && e.clientWidth && e.scrollWidth > e.clientWidth + 1)
	.map((e) => e.tagName + "." + e.className).join(" ")`

// assertPrinted prints the page as it is shown and holds that it fills so many
// pages, that every word that is shown stands on one of them within the margins,
// and that nothing is wider than its place on the paper.
func assertPrinted(t testing.TB, b *testkit.Browser, name string, paper testkit.Paper, pages int) []testkit.PDFPage {
	t.Helper()
	printed := testkit.PDFPages(t, b.Print(name+".pdf", paper))
	assert.Equal(t, pages, len(printed), "pages of %s", name)
	var words []string
	for _, p := range printed {
		words = append(words, p.Text())
		for _, w := range p.Words {
			if w.XMin < pageMargin || w.YMin < pageMargin || w.XMax > p.Width-pageMargin || w.YMax > p.Height-pageMargin {
				assert.Fail(t, "a word beyond the margin", "%s: %+v", name, w)
			}
		}
	}
	const perInch = 96 // CSS pixels
	b.Size(int((paper.Width-2*9/25.4)*perInch), 900)
	b.Media("print", "light")
	assert.Empty(t, b.Text(cutOff), name)
	assert.Empty(t, lost(b.Text(shownWords), strings.Join(words, " ")), name)
	b.Media("", "light")
	b.Size(1280, 900)
	return printed
}

// lost are the runs of letters and digits that are printed another number of times
// than they are shown: words may be parted at their hyphens, and letters tied
// together.
func lost(shown, printed string) (out []string) {
	counts := map[string]int{}
	untie := strings.NewReplacer("ﬁ", "fi", "ﬂ", "fl", "ﬀ", "ff")
	for sign, text := range map[int]string{1: shown, -1: untie.Replace(printed)} {
		for _, run := range regexp.MustCompile(`[\pL\pN]+`).FindAllString(text, -1) {
			counts[run] += sign
		}
	}
	for run, n := range counts {
		if n != 0 {
			out = append(out, fmt.Sprintf("%q %+d", run, -n))
		}
	}
	return out
}
