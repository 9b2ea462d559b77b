package fieldwork

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/key"
)

// Key puts the verdict on a species into words.
type Key struct {
	key.Verdict
	Wingless bool
	Rules    []rules.Rule // published for the species, where one is decided
}

const (
	lookAgain = "look again at a wingless adult"
	apart     = "Count species apart. Body colour alone never decides."
)

// Text is what the screen says.
func (k Key) Text() string {
	var b strings.Builder
	switch {
	case len(k.Fits) == 0:
		fmt.Fprintf(&b, "none of the five fits: %s; it may be another species\n", lookAgain)
	case k.Decided:
		fmt.Fprintf(&b, "%s (%s)\n%s", k.Fits[0].Name, k.Fits[0].Latin, k.rules())
	default:
		k.undecided(&b)
	}
	for _, r := range k.RuledOut {
		fmt.Fprintf(&b, "  not %s: %s\n", r.Name, strings.Join(r.By, "; "))
	}
	for _, r := range k.Remarks {
		fmt.Fprintf(&b, "  %s\n", r)
	}
	fmt.Fprintf(&b, "%s\n", apart)
	return b.String()
}

// rules points to what decides on spraying.
func (k Key) rules() string {
	if len(k.Rules) == 0 {
		return "  no rule for it is known here: ask the local extension service, and give map --treat-at\n"
	}
	var b strings.Builder
	for _, r := range k.Rules {
		fmt.Fprintf(&b, "  rule %s, %s: %s\n", r.Name, r.Crop, r.Cited())
	}
	fmt.Fprintf(&b, "  %s\n", rules.Caution)
	return b.String()
}

func (k Key) undecided(b *strings.Builder) {
	var names []string
	for _, s := range k.Fits {
		names = append(names, s.Name)
	}
	fmt.Fprintf(b, "not decided: %s\n", lookAgain)
	for _, m := range key.Marks() {
		if slices.Contains(k.LookAt, m.Name) {
			fmt.Fprintf(b, "  look at: %s give --%s %s\n", m.Question, m.Name, m.Words())
		}
	}
	if !k.Wingless {
		b.WriteString("  winged and young ones lack or hide marks\n")
	}
	fmt.Fprintf(b, "  these fit: %s\n", strings.Join(names, ", "))
}

// WriteJSON writes the verdict for a machine.
func (k Key) WriteJSON(w io.Writer) error {
	type ruledOut struct {
		Species string   `json:"species"`
		By      []string `json:"by"`
	}
	out := struct {
		Decided  bool       `json:"decided"`
		Fits     []string   `json:"fits"`
		RuledOut []ruledOut `json:"ruled_out"`
		LookAt   []string   `json:"look_at"`
		Remarks  []string   `json:"remarks"`
		Rules    []string   `json:"rules"`
	}{Decided: k.Decided, Fits: []string{}, RuledOut: []ruledOut{}, Rules: []string{}, LookAt: append([]string{}, k.LookAt...), Remarks: append([]string{}, k.Remarks...)}
	for _, s := range k.Fits {
		out.Fits = append(out.Fits, s.Name)
	}
	for _, r := range k.RuledOut {
		out.RuledOut = append(out.RuledOut, ruledOut{r.Name, r.By})
	}
	for _, r := range k.Rules {
		out.Rules = append(out.Rules, r.Name)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(out)
}
