package rules

import (
	"fmt"
	"strings"
)

// A Book is a list of rules with names of their own.
type Book struct{ Rules []Rule }

// Decode reads rules in TOML; name stands for the text in messages. Unknown keys
// and rules that cannot be meant are errors that name line or rule.
func Decode(name string, text []byte) (*Book, error) {
	all, err := read(name, text)
	if err != nil {
		return nil, err
	}
	return bookOf(name, all)
}

// bookOf are rules that can be meant, of different names.
func bookOf(name string, all []Rule) (*Book, error) {
	b := &Book{}
	for _, r := range all {
		if err := r.Validate(); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if _, known := b.find(r.Name); known {
			return nil, fmt.Errorf("%s: two rules are called %q", name, r.Name)
		}
		b.Rules = append(b.Rules, r)
	}
	if len(b.Rules) == 0 {
		return nil, fmt.Errorf("%s: holds no rule: want tables headed [[rule]]", name)
	}
	return b, nil
}

// ownLimit bounds a file of rules; the published ones are a few KiB.
const ownLimit = 1 << 20

// With returns the rules of the user's own file, in TOML, before the published ones;
// name stands for it in messages. A rule of one's own may take the name of a
// published one, which it then replaces.
func With(name string, text []byte) (*Book, error) {
	if len(text) > ownLimit {
		return nil, fmt.Errorf("%s: more than %d KiB: is this a file of rules?", name, ownLimit>>10)
	}
	all, err := Published()
	if err != nil {
		return nil, err
	}
	own, err := Decode(name, text)
	if err != nil {
		return nil, err
	}
	for _, r := range all.Rules {
		if _, replaced := own.find(r.Name); !replaced {
			own.Rules = append(own.Rules, r)
		}
	}
	return own, nil
}

func (b *Book) find(name string) (Rule, bool) {
	for _, r := range b.Rules {
		if fold(r.Name) == fold(name) {
			return r, true
		}
	}
	return Rule{}, false
}

// Named finds a rule by its name, without regard to case. The error lists the
// names there are.
func (b *Book) Named(name string) (Rule, error) {
	if r, ok := b.find(name); ok {
		return r, nil
	}
	var names []string
	for _, r := range b.Rules {
		names = append(names, r.Name)
	}
	return Rule{}, fmt.Errorf("no rule is called %q; there are %s", name, strings.Join(names, ", "))
}

// OfPest are the rules for a pest, by its usual names.
func (b *Book) OfPest(pest string) (fit []Rule) {
	for _, r := range b.Rules {
		if SamePest(r.Pest, pest) {
			fit = append(fit, r)
		}
	}
	return fit
}

// Default is the rule that stands in for a pest when none is named.
func (b *Book) Default(pest string) (Rule, bool) {
	for _, r := range b.OfPest(pest) {
		if r.Default {
			return r, true
		}
	}
	return Rule{}, false
}

// pestNames are other names of pests. Melanaphis sorghi was published as
// M. sacchari until about 2021 (Brewer et al. 2022, Front. Insect Sci. 2:830997).
var pestNames = map[string]string{
	"sorghum aphid": "sorghum aphid", "sugarcane aphid": "sorghum aphid", "melanaphis sorghi": "sorghum aphid",
	"melanaphis sacchari": "sorghum aphid", "m. sorghi": "sorghum aphid", "m. sacchari": "sorghum aphid", "sca": "sorghum aphid",
}

// SamePest reports whether two names mean the same pest: without regard to case,
// underscores or a plural.
func SamePest(a, b string) bool { return pestKey(a) == pestKey(b) }

func pestKey(name string) string {
	key := fold(name)
	for _, k := range []string{key, strings.TrimSuffix(key, "s")} {
		if usual, known := pestNames[k]; known {
			return usual
		}
	}
	return strings.TrimSuffix(key, "s")
}

func fold(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "_", " ")), " "))
}
