package web_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A growth stage is chosen by its drawing, which marks the two leaves to look at then: before
// the flag leaf is out the top leaf, from boot on the one below the flag leaf. The choice is
// kept, and what is counted follows it.
func TestStageIsChosenByItsDrawing(t *testing.T) {
	p := newPhone(t)
	p.keep(begun(t, mean, 0)[:2]...)
	p.shows("before")
	p.Await(`document.querySelectorAll("#stage .plant").length === 4`)
	assert.Equal(t, "pre-boot", p.Text(`document.querySelector("#stage :checked").value`), "the first, as long as nobody chooses")
	for stage, want := range map[string]string{"pre-boot": "1,5", "boot": "1,4"} {
		assert.Equal(t, want, p.Text(fmt.Sprintf(`[...document.getElementById("stage-%s").parentElement.querySelectorAll(".blade")].flatMap((e, i) => e.classList.contains("look") ? [i] : []).join(",")`, stage)), stage)
	}
	shapes := p.Evaluate(`new Set([...document.querySelectorAll("#stage .plant")].map(e => e.innerHTML)).size`)
	assert.Equal(t, 4.0, shapes, "no two look alike")
	stored := p.stored()
	p.tap("#stage-boot")
	p.awaitStored(stored + 1)
	p.again()
	p.Await(`document.querySelector("#stage :checked")?.value === "boot"`)
	p.screen("before-stage")
	p.choose("rule", "sorghum-aphid-high-plains")
	p.Await(`document.querySelectorAll("#stage .plant").length === 5`)
	p.tap("#stage-black-layer")
	p.Await(`document.getElementById("what").textContent.includes("only to protect the harvest")`)
	p.choose("rule", "cotton-aphid")
	p.Await(`document.querySelectorAll("#stage .plant").length === 0 && document.querySelector("#stage :checked") !== null`)
	p.screen("before-stage-any")
}
