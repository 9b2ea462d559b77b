package key

import (
	"fmt"
	"slices"
	"strings"
)

// A Mark is something to look at, with the answers it can have.
type Mark struct {
	Name     string
	Question string
	Answers  []Answer
	Decides  bool // else it is only weighed
}

// An Answer is one of a mark's, and what it means.
type Answer struct{ Word, Meaning string }

// Unseen is the answer of somebody who could not see.
const Unseen = ""

// Marks lists what is looked at, in the order in which it is asked.
func Marks() []Mark {
	return []Mark{
		{"spines", "spines or hairs all over the back?", []Answer{{"yes", "hairy"}, {"no", "smooth"}}, true},
		{"cornicles", "cornicles, the two tubes at the rear end?", []Answer{{"dark", "all dark"}, {"tip", "pale with a dark tip"}, {"pale", "all pale"}}, true},
		{"feet", "feet, the last part of the legs?", []Answer{{"dark", ""}, {"pale", ""}}, true},
		{"antennae", "tips of the antennae?", []Answer{{"dark", ""}, {"pale", ""}}, true},
		{"stripe", "a darker green stripe down the back?", []Answer{{"yes", ""}, {"no", ""}}, true},
		{"patch", "a patch round the bases of the cornicles?", []Answer{{"red", "red to orange"}, {"dark", ""}, {"none", ""}}, true},
		{"head", "head?", []Answer{{"dark", ""}, {"pale", ""}}, true},
		{"place", "where on the plant?", []Answer{{"whorl", "in the whorl"}, {"leaf", "on the underside of a leaf"}, {"head", "in the seed head"}}, false},
		{"spots", "red spots on the leaf where they feed?", []Answer{{"yes", ""}, {"no", ""}}, false},
		{"colour", "colour of the body?", []Answer{{"yellow", "lemon yellow"}, {"other", ""}}, false},
	}
}

// Seen are answers by the names of marks; one left out is not seen.
type Seen map[string]string

// A Species is a row of the table.
type Species struct {
	Name, Latin string
	marks       map[string][]string // answers that fit; a mark left out fits any
	usual       map[string]string   // answers of marks that do not decide
}

// Shows are the answers to a mark that a species shows, or usually shows where the mark
// does not decide; none where any answer fits.
func (s Species) Shows(mark string) []string {
	if usual, ok := s.usual[mark]; ok {
		return []string{usual}
	}
	return s.marks[mark]
}

// Table lists the species.
func Table() []Species {
	smooth := []string{"no"}
	return []Species{
		{
			Name: "sorghum aphid", Latin: "Melanaphis sorghi, until about 2021 sugarcane aphid",
			marks: map[string][]string{"feet": {"dark"}, "antennae": {"dark"}, "cornicles": {"dark"}, "head": {"pale"}, "stripe": {"no"}, "patch": {"none"}, "spines": smooth},
		},
		{
			Name: "corn leaf aphid", Latin: "Rhopalosiphum maidis",
			marks: map[string][]string{"feet": {"dark"}, "antennae": {"dark"}, "cornicles": {"dark"}, "head": {"dark"}, "stripe": {"no"}, "patch": {"dark"}, "spines": smooth},
			usual: map[string]string{"place": "whorl"},
		},
		{
			Name: "greenbug", Latin: "Schizaphis graminum",
			marks: map[string][]string{"feet": {"dark"}, "antennae": {"dark"}, "cornicles": {"tip"}, "head": {"pale"}, "stripe": {"yes"}, "patch": {"none"}, "spines": smooth},
			usual: map[string]string{"spots": "yes"},
		},
		{
			Name: "yellow sugarcane aphid", Latin: "Sipha flava",
			marks: map[string][]string{"feet": {"pale"}, "antennae": {"pale"}, "cornicles": {"pale"}, "head": {"pale"}, "stripe": {"no"}, "patch": {"none"}, "spines": {"yes"}},
			usual: map[string]string{"colour": "yellow"},
		},
		{
			Name: "bird cherry-oat aphid", Latin: "Rhopalosiphum padi",
			marks: map[string][]string{"head": {"pale"}, "stripe": {"no"}, "patch": {"red"}, "spines": smooth},
		},
	}
}

// A Verdict is what the marks say.
type Verdict struct {
	Fits     []Species
	RuledOut []RuledOut
	Decided  bool     // one species fits, by marks that decide, on a wingless adult
	LookAt   []string // marks not seen that part the species that fit
	Remarks  []string // what is weighed but does not decide
}

// RuledOut is a species with the marks against it.
type RuledOut struct {
	Species
	By    []string // such as "cornicles all pale, not all dark"
	Marks []string // the names of these marks, in the same order
}

// Judge weighs what was seen on a wingless adult, or on another form, which never
// decides. An unknown mark or answer is an error.
func Judge(seen Seen, wingless bool) (Verdict, error) {
	if err := seen.check(); err != nil {
		return Verdict{}, err
	}
	var v Verdict
	for _, s := range Table() {
		if marks, by := s.against(seen); len(by) > 0 {
			v.RuledOut = append(v.RuledOut, RuledOut{s, by, marks})
		} else {
			v.Fits = append(v.Fits, s)
		}
	}
	v.Decided = wingless && len(v.Fits) == 1
	v.LookAt = parting(v.Fits, seen)
	v.Remarks = remarks(seen)
	return v, nil
}

func (seen Seen) check() error {
	known := 0
	for _, m := range Marks() {
		answer, given := seen[m.Name]
		if given {
			known++
		}
		if !given || answer == Unseen {
			continue
		}
		if !slices.ContainsFunc(m.Answers, func(a Answer) bool { return a.Word == answer }) {
			return fmt.Errorf("%s %q: want %s", m.Name, answer, m.Words())
		}
	}
	if known != len(seen) {
		return fmt.Errorf("%d of the marks are unknown", len(seen)-known)
	}
	return nil
}

// Words lists the answers of a mark.
func (m Mark) Words() string {
	var words []string
	for _, a := range m.Answers {
		words = append(words, a.Word)
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// Says is what an answer of the mark means, in words.
func (m Mark) Says(answer string) string {
	for _, a := range m.Answers {
		if a.Word == answer && a.Meaning != "" {
			return a.Meaning
		}
	}
	return answer
}

// against lists the marks that speak against a species, by their names and in words.
func (s Species) against(seen Seen) (marks, by []string) {
	for _, m := range Marks() {
		answer, fits := seen[m.Name], s.marks[m.Name]
		if m.Decides && answer != Unseen && len(fits) > 0 && !slices.Contains(fits, answer) {
			marks = append(marks, m.Name)
			var other []string
			for _, fit := range fits {
				other = append(other, m.Says(fit))
			}
			by = append(by, fmt.Sprintf("%s %s, not %s", m.Name, m.Says(answer), strings.Join(other, " or ")))
		}
	}
	return marks, by
}

// parting lists the marks not yet seen on which the species differ.
func parting(fits []Species, seen Seen) (look []string) {
	for _, m := range Marks() {
		if !m.Decides || seen[m.Name] != Unseen {
			continue
		}
		for _, s := range fits[min(1, len(fits)):] {
			a, b := s.marks[m.Name], fits[0].marks[m.Name]
			if len(a) > 0 && len(b) > 0 && !slices.Equal(a, b) {
				look = append(look, m.Name)
				break
			}
		}
	}
	return look
}

func remarks(seen Seen) (out []string) {
	for _, m := range Marks() {
		if m.Decides || seen[m.Name] == Unseen {
			continue
		}
		for _, s := range Table() {
			if usual := s.usual[m.Name]; usual != "" && usual == seen[m.Name] {
				out = append(out, fmt.Sprintf("%s %s is usual in the %s, but does not decide", m.Name, usual, s.Name))
			}
		}
	}
	return out
}
