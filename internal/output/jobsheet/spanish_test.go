package jobsheet_test

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/testkit"
)

// mostWords of a sentence in Spanish, as in English.
const mostWords = 25

var (
	figure = regexp.MustCompile(`\d[\d.,:]*\d|\d`)
	// what a person typed in, names of files and of flags, and notes of files of keep-offs
	typedIn   = regexp.MustCompile(`North forty behind\s+the\s+old\s+elevator,\s+rows\s+east to west|product A|hives|--[a-z-]+|[\w./]+\.(geojson|kml|kmz|gpkg|zip|html|pdf|gpx|json)\b`)
	notes     = regexp.MustCompile(`(?m)^\s*Nota: .*$`) // are in English, as those of a map are
	inEnglish = regexp.MustCompile(`(?i)\b(the|of|and|to|is|are|or|at|by|spray|spraying|stops?|ground|watch|look|days?|leaf|leaves|not|red|used|mean|map|field|loads?|pass|passes|on|off|from|for|with|keep|count)\b`)
)

func spanish(s jobsheet.Sheet) jobsheet.Sheet {
	s.Units = s.Units.In(vocabulary.Spanish)
	return s
}

// assertSaysTheSame: two texts have the same figures, and the second no word of English.
func assertSaysTheSame(t *testing.T, english, spanish string) {
	t.Helper()
	figures := func(text string) []string {
		all := figure.FindAllString(text, -1)
		slices.Sort(all)
		return all
	}
	assert.Equal(t, figures(english), figures(spanish))
	spanish = notes.ReplaceAllString(spanish, "")
	rest := typedIn.ReplaceAllString(spanish, "")
	for _, at := range inEnglish.FindAllStringIndex(rest, -1) {
		assert.Fail(t, "a word in English", "%q", rest[max(0, at[0]-40):min(len(rest), at[1]+40)])
	}
	read := testkit.ReadingOf(spanish)
	assert.LessOrEqual(t, read.LongestWords, mostWords, read.Longest)
}

// against, by hand, whole, late and undecided: what a sheet may say beside that of [busy].
func unlike(t *testing.T) map[string]jobsheet.Sheet {
	t.Helper()
	all := map[string]jobsheet.Sheet{}
	for name, change := range map[string]func(j *handoff.Job, s *jobsheet.Sheet){
		"busy": func(*handoff.Job, *jobsheet.Sheet) {},
		"against": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Advice = handoff.Advice{Verdict: "look again", Heading: "look again", LookAgain: "2026-07-18"}
		},
		"whole": func(j *handoff.Job, _ *jobsheet.Sheet) { j.Advice.Verdict = "treat the whole field" },
		"by hand": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Advice = handoff.Advice{Verdict: handoff.ByHand, Heading: handoff.ByHand, Before: "no spray", LookAgain: "2026-07-18"}
		},
		"undecided": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Fallback = true
			j.Advice = handoff.Advice{Verdict: "undecided", LookAgain: "2026-07-19", Heading: "undecided: one hot stop; walk 4 more stops round stop 42, today; else spot spray 0.19 ha, the treat zone; look again by 2026-07-19"}
		},
		"unknown": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Advice, j.Trust, j.Days = handoff.Advice{}, "", handoff.Days{}
		},
		"late": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Days.GoodUntil, j.Days.MapUntil, j.Days.SprayOn, j.Days.Late = "2026-07-17", "2026-07-18", "2026-07-20", true
		},
		"due and by": func(j *handoff.Job, _ *jobsheet.Sheet) { j.Days.SprayOn, j.Advice.WholeDue = "", true },
		"part": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Trust = "these stops speak for 12 ha only: walk the rest of the field, or decide on that part"
		},
		"share": func(j *handoff.Job, _ *jobsheet.Sheet) {
			j.Unit, j.Trust = "% of leaves at or above 50", "better than the field's mean for deciding where to treat: spraying the treat zone is expected to save 0.12 treatments of the field"
		},
		"nothing typed": func(_ *handoff.Job, s *jobsheet.Sheet) { s.Mix = handoff.Mix{} },
		"no jobs": func(_ *handoff.Job, s *jobsheet.Sheet) {
			held := errors.New("held back")
			unread := handoff.Advice{Verdict: "undecided", Heading: "undecided: the count of stop 10 could not be read (a.csv:11, blank): find it out or count it again today, walk 3 more stops inside, 8 m or more from the edge as well, and map again; else treat the whole field; look again by 2026-07-19"}
			s.Result.Idle = []handoff.Idle{
				{Field: "C", Why: held, Advice: unread}, {Field: "E", Why: held, Advice: handoff.Advice{Verdict: "undecided", Heading: "undecided: stop 4 has the place of stop 3 (a.csv:5): find it out or count it again today; else look again by 2026-07-19"}},
				{Field: "F", Why: held, Advice: handoff.Advice{Verdict: "undecided", Heading: "undecided: 2 places with two counts: find them out or count them again today; else look again by 2026-07-19"}}, {Field: "D", Why: held, Advice: handoff.Advice{Verdict: "no spray", Heading: "no spray", LookAgain: "2026-07-22"}},
			}
		},
	} {
		s := busy(t)
		change(s.Result.Jobs[0], &s)
		all[name] = s
	}
	return all
}

// Page, print and screen say in Spanish what they say in English.
func TestTheSheetInSpanish(t *testing.T) {
	for name, s := range unlike(t) {
		t.Run(name, func(t *testing.T) {
			page := func(s jobsheet.Sheet) string {
				var b strings.Builder
				require.NoError(t, s.WriteHTML(&b))
				return testkit.PageText(t, b.String())
			}
			screen := func(s jobsheet.Sheet) string {
				var b strings.Builder
				for _, line := range (jobsheet.Brief{Sheet: s, Width: 4000}).Lines() {
					b.WriteString(line.Text + "\n")
				}
				return b.String()
			}
			assertSaysTheSame(t, page(s), page(spanish(s)))
			assertSaysTheSame(t, screen(s), screen(spanish(s)))
			assertSaysTheSame(t, strings.Join(words(t, s), "\n\n"), strings.Join(words(t, spanish(s)), "\n\n"))
			assert.Len(t, spanish(s).Scenes(), len(s.Scenes()), "pages")
		})
	}
}

// What is folded or printed by --details alone, and what files hold, is in English.
func TestAllFiguresAndDataStayInEnglish(t *testing.T) {
	s := busy(t)
	assert.Equal(t, screen(t, s), screen(t, spanish(s)))
	var a, b strings.Builder
	require.NoError(t, s.WriteJSON(&a))
	require.NoError(t, spanish(s).WriteJSON(&b))
	assert.Equal(t, a.String(), b.String())
}

// Names on maps are in Spanish, with the data of the English.
func TestNamesOnMapsInSpanish(t *testing.T) {
	s := busy(t)
	english, said := s.Document(), spanish(s).Document()
	assertSaysTheSame(t, english.Name+english.Description, said.Name+said.Description)
	require.Len(t, said.Folders, len(english.Folders))
	for i, f := range said.Folders {
		assertSaysTheSame(t, english.Folders[i].Name, f.Name)
		for k, p := range f.Placemarks {
			assertSaysTheSame(t, english.Folders[i].Placemarks[k].Name, p.Name)
			assert.Equal(t, english.Folders[i].Placemarks[k].Data, p.Data)
		}
	}
	assertSaysTheSame(t, s.Route().Description, spanish(s).Route().Description)
	assert.Equal(t, s.Route().Points, spanish(s).Route().Points, "receivers know these names")
}

// Every caution of the sheet is there, word for word as it was translated.
func TestCautionsOfTheSheetInSpanish(t *testing.T) {
	var b strings.Builder
	require.NoError(t, spanish(busy(t)).WriteHTML(&b))
	assert.Contains(t, b.String(), `<html lang="es">`)
	text := testkit.PageText(t, b.String())
	for _, english := range jobsheet.Cautions() {
		own := vocabulary.Spanish.Text(english)
		assert.NotEqual(t, english, own)
		assert.Contains(t, text, own)
	}
	assert.NotEqual(t, report.WholeDue, vocabulary.Spanish.Text(report.WholeDue))
}
