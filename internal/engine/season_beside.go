//go:build !small

package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A season that was merged of two may hold two visits of a field's day. Which of them
// counts is nobody's but the person's to say.

// WithoutVisits are weeks whose season shows no visits of the numbers given. Numbers that
// no season has, or one of several, are an error.
func WithoutVisits(weeks []Week, numbers []int64) ([]Week, error) {
	if len(numbers) == 0 {
		return weeks, nil
	}
	out, at := slices.Clone(weeks), -1
	for i, week := range weeks {
		if week.Season == nil {
			continue
		}
		if at >= 0 {
			return nil, usage(errors.New("--without: several seasons have visits of these numbers; put them into one with season merge"))
		}
		at = i
	}
	if at < 0 {
		return nil, usage(errors.New("--without leaves out visits of a season, and there is none among the weeks"))
	}
	lines, err := weeks[at].Season.List()
	if err != nil {
		return nil, err
	}
	for _, n := range numbers {
		if !slices.ContainsFunc(lines, func(l season.Line) bool { return l.ID == n }) {
			return nil, usage(hinted(fmt.Errorf("--without %d: there is no such visit", n), "there are visits "+numbersOf(lines)+"; season list shows each"))
		}
	}
	if len(lines) > 0 && !slices.ContainsFunc(lines, func(l season.Line) bool { return !slices.Contains(numbers, l.ID) }) {
		return nil, usage(errors.New("--without: no visit is left; leave out fewer"))
	}
	out[at].Season = without{weeks[at].Season, numbers}
	return out, nil
}

func numbersOf(lines []season.Line) string {
	var all []string
	for _, l := range lines {
		all = append(all, fmt.Sprint(l.ID))
	}
	return listed(all)
}

type without struct {
	SeasonReader
	numbers []int64
}

func (w without) List() ([]season.Line, error) {
	lines, err := w.SeasonReader.List()
	return slices.DeleteFunc(lines, func(l season.Line) bool { return slices.Contains(w.numbers, l.ID) }), err
}

func (w without) Beside() (left []season.Beside, err error) {
	all, err := w.SeasonReader.Beside()
	for _, b := range all {
		if b = b.Without(w.numbers); len(b.Visits) > 1 {
			left = append(left, b)
		}
	}
	return left, err
}

// Beside leaves out fields that are not shown.
func (n narrowed) Beside() ([]season.Beside, error) {
	all, err := n.SeasonReader.Beside()
	return slices.DeleteFunc(all, func(b season.Beside) bool {
		return !slices.ContainsFunc(n.fields, func(f geo.Field) bool { return f.Name == b.Field })
	}), err
}

// parted is an error that names all fields and days of which several visits tell that are not
// parts of one walk.
func (q CompareRequest) parted(file SeasonReader, lines []season.Line) error {
	all, err := file.Beside()
	if err != nil {
		return err
	}
	return sideBySide(all, lines, q.Settings.Only)
}

// sideBySide is the error of those of the fields that are asked for, nil for all.
func sideBySide(all []season.Beside, lines []season.Line, only []string) error {
	var leave []string
	var left []season.Beside
	for _, b := range all {
		if only != nil && !slices.ContainsFunc(only, func(name string) bool { return strings.EqualFold(name, b.Field) }) {
			continue
		}
		if b.Parts() {
			continue
		}
		left = append(left, b)
		for _, n := range b.Twice() {
			if text := fmt.Sprint(n); !slices.Contains(leave, text) {
				leave = append(leave, text)
			}
		}
	}
	said := report.BesideTexts(left, lines)
	if len(said) == 0 {
		return nil
	}
	if len(said) > mostNamed {
		said = append(said[:mostNamed], fmt.Sprintf("and %d more", len(said)-mostNamed))
	}
	return HintedError{Err: errors.New(strings.Join(said, "\n")),
		Hint:   fmt.Sprintf("say which to leave out, such as --without %s; season show shows each", strings.Join(leave, ",")),
		OnPage: "say which to leave out, under “Leave out a visit”"}
}

// BesideNotes are what is to be known of a visit: others that tell of a field of it on the
// same day.
func BesideNotes(file SeasonReader, visit int64) (notes []string, err error) {
	all, err := file.Beside()
	if err != nil {
		return nil, err
	}
	lines, err := file.List()
	of := slices.DeleteFunc(slices.Clone(all), func(b season.Beside) bool { return !slices.Contains(b.Visits, visit) })
	return report.BesideTexts(of, lines), err
}

// mostNamed bounds what is listed in a line.
const mostNamed = 8

func listed(all []string) string {
	if len(all) > mostNamed {
		return fmt.Sprintf("%s and %d more", strings.Join(all[:mostNamed], ", "), len(all)-mostNamed)
	}
	return strings.Join(all, ", ")
}
