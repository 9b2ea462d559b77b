package survey

import (
	"fmt"
	"strings"
)

// choosePest keeps the records of one pest.
func (b *builder) choosePest() ([]Record, error) {
	names := map[string]string{} // folded name → as first written
	var order []string
	blank := 0
	folded := map[string]string{} // few names in many rows
	var last, lastKey string
	foldOnce := func(name string) string {
		if name == last {
			return lastKey
		}
		key, known := folded[name]
		if !known {
			key = fold(name)
			folded[name] = key
		}
		last, lastKey = name, key
		return key
	}
	for i := range b.records {
		pest := b.records[i].Pest
		key := foldOnce(pest)
		if key == "" {
			blank++
		} else if key == unsaid {
			continue
		} else if i > 0 && pest == b.records[i-1].Pest {
			continue
		} else if _, known := names[key]; !known {
			names[key] = pest
			order = append(order, key)
		}
	}
	want := fold(b.opts.Pest)
	switch {
	case len(order) == 0:
		b.survey.Pest = strings.TrimSpace(b.opts.Pest)
		return b.records, nil
	case want == "" && len(order) > 1:
		much := ""
		if a, b, found := alikeAmong(order); found {
			much = fmt.Sprintf("%q and %q are much alike: write them alike if they are one; ", names[a], names[b])
		}
		return nil, fmt.Errorf("the samples name %d pests: %s; %schoose one with --pest", len(order), listOf(names, order), much)
	case want == "":
		want = order[0]
	case names[want] == "":
		return nil, fmt.Errorf("no row is of %q; the samples name: %s", b.opts.Pest, listOf(names, order))
	}
	b.survey.Pest = names[want]
	if len(order) == 1 && blank > 0 {
		b.survey.Notes = append(b.survey.Notes, fmt.Sprintf("%d rows name no pest: taken as %s, like the others", blank, names[want]))
	}
	return b.onlyPest(want, len(order) == 1, foldOnce), nil
}

// onlyPest parts the records of one pest from the others. A row without a name
// among several pests could be of any of them, and one that is named much like the
// pest of it.
func (b *builder) onlyPest(want string, only bool, fold func(string) string) (kept []Record) {
	kept = b.records[:0]
	maybe := map[string]bool{} // few names in many rows
	for i := range b.records {
		r := &b.records[i]
		key := fold(r.Pest)
		if key == want || key == "" && only {
			kept = moveUp(kept, b.records, i)
			continue
		}
		if _, asked := maybe[key]; !asked {
			maybe[key] = mayBe(key, want)
		}
		if !maybe[key] {
			b.survey.Tally.OtherPest++
			continue
		}
		b.survey.Tally.SetAside++
		p := Problem{File: r.File, Line: r.Line, Column: colPest.String(), Value: r.Pest}
		if key == "" || key == unsaid {
			p = p.refuse("the row does not say which pest was counted", "name the pest")
		} else {
			p = p.refuse(fmt.Sprintf("names a pest much like %q", b.survey.Pest), "write both alike, if they are one, or name the other in another way")
		}
		b.survey.Problems = append(b.survey.Problems, p)
		b.survey.Unread = append(b.survey.Unread, Unread{Problem: p, Row: *r, Placed: true, Units: r.Units, Least: r.Total / r.Units, Most: r.Total / r.Units})
	}
	return kept
}

// mayBe reports whether a row with a folded name may be of the pest: where it names
// none, that pest, or one much like it.
func mayBe(named, pest string) bool {
	return named == "" || named == unsaid || alike(named, pest)
}

// unsaid is the key of what is no name: a question mark, a dash.
const unsaid = "?"

func fold(name string) string {
	key := strings.ToLower(strings.Join(strings.Fields(name), " "))
	if key != "" && same(key) == "" {
		return unsaid
	}
	return key
}

func listOf(names map[string]string, order []string) string {
	var out []string
	for _, key := range order {
		out = append(out, fmt.Sprintf("%q", names[key]))
	}
	return strings.Join(out, ", ")
}
