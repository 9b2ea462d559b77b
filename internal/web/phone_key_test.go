package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The key: marks that are pressed rule species out, with what speaks against them, until one
// is left; what is pressed again is taken back.
func TestKeyOnThePhone(t *testing.T) {
	p := newPhone(t)
	p.tap("#key")
	p.shows("key")
	p.Await(`document.querySelectorAll("#species li").length === 5`)
	assert.Equal(t, "5 fit: sorghum aphid, corn leaf aphid, greenbug, yellow sugarcane aphid, bird cherry-oat aphid.", p.status("key-said"))
	assert.Equal(t, 23.0, p.Evaluate(`document.querySelectorAll("[data-mark] svg.aphid").length`), "every answer is drawn")
	drawn := p.Evaluate(`new Set([...document.querySelectorAll("[data-mark] svg.aphid")].map(e => e.innerHTML)).size`).(float64)
	assert.GreaterOrEqual(t, drawn, 17.0, "and what is not seen in outline looks alike")
	p.openAll()
	p.screen("key")
	p.tap(`[data-mark="cornicles-dark"]`)
	p.Await(`document.getElementById("key-said").textContent.startsWith("3 fit")`)
	assert.Contains(t, p.status("key-said"), "Look next: ")
	p.tap(`[data-mark="patch-none"]`)
	p.Await(`document.getElementById("key-said").textContent === "It is the sorghum aphid."`)
	assert.Contains(t, p.status("species"), "Not it: cornicles, the two tubes at the rear end")
	assert.Equal(t, 4.0, p.Evaluate(`document.querySelectorAll("#species .out").length`))
	p.Evaluate(`scrollTo({ top: 0, behavior: "instant" })`) // what is pressed goes below the answer, which stays in sight
	p.screen("key-decided")
	p.tap("#key-form")
	p.Await(`document.getElementById("key-said").textContent.startsWith("Only the sorghum aphid fits.")`)
	p.tap("#key-form")
	p.tap(`[data-mark="patch-none"]`)
	p.Await(`document.getElementById("key-said").textContent.startsWith("3 fit")`)
	p.tap(`[data-mark="spines-yes"]`)
	p.Await(`document.getElementById("key-said").textContent.startsWith("None of the five fits.")`)
	p.Evaluate(`history.back()`)
	p.shows("before")
	p.tap("#speak-es")
	p.tap("#key") // at once: what the choice of a language shows anew is not this screen
	p.shows("key")
	p.Await(`document.querySelectorAll("#species li").length === 5`)
	p.openAll()
	p.inSpanish("key")
	p.screen("es-key")
}
