package report

import "github.com/geocoris/geocoris/internal/language/figures"

// A Paper is what the lines of a short screen are put on: none is longer than its width
// but for a longer word.
type Paper struct{ on *paper }

// NewPaper has so many columns, 0 for [UsualWidth], and what it says itself in a language.
func NewPaper(width int, words figures.Units) Paper { return Paper{newPaper(width, words)} }

// Blank leaves a line free.
func (p Paper) Blank() { p.on.blank() }

// Put adds a text so many blanks in; what does not fit goes on two farther in.
func (p Paper) Put(indent int, tone Tone, text string) { p.on.put(indent, tone, text) }

// Said adds sentences behind a word that says what they are about; nothing for none.
func (p Paper) Said(about string, sentences ...string) { p.on.said(about, sentences...) }

// Notes adds the first of some lots of notes below all fields.
func (p Paper) Notes(lots ...[]string) { p.on.asides(firstNotes(p.on.words, lots...)) }

// Footer names the files, and keeps the cautions in mind.
func (p Paper) Footer(out string, files []string) { p.on.footer(out, files) }

// Lines are all of them.
func (p Paper) Lines() []Line { return p.on.lines }
