package figures_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestDaysAsPeopleSayThem(t *testing.T) {
	for iso, want := range map[string][2]string{
		"2026-07-18": {"Saturday 18 July", "Sat 18 Jul"}, "2026-01-01": {"Thursday 1 January", "Thu 1 Jan"},
		"2024-02-29": {"Thursday 29 February", "Thu 29 Feb"}, "": {"", ""}, "2026-02-30": {"2026-02-30", "2026-02-30"},
	} {
		assert.Equal(t, want, [2]string{figures.Day(iso), figures.Both.ShortDay(iso)}, iso)
	}
}

func TestDaysInSpanish(t *testing.T) {
	u := figures.Metric.In(vocabulary.Spanish)
	for iso, want := range map[string][3]string{
		"2026-07-18": {"sábado 18 de julio", "sáb 18 jul", "sábado 18 de julio de 2026"}, "2024-02-29": {"jueves 29 de febrero", "jue 29 feb", "jueves 29 de febrero de 2024"},
	} {
		assert.Equal(t, want, [3]string{u.Day(iso), u.ShortDay(iso), u.DayOfYear(iso)}, iso)
	}
	assert.Equal(t, "no day", u.Day("no day"))
}

// Of each day and part there are words of its own.
func TestEveryDayAndPartIsInSpanish(t *testing.T) {
	u, said := figures.Both.In(vocabulary.Spanish), map[string]bool{}
	for day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2026; day = day.AddDate(0, 0, 1) {
		said[u.ShortDay(day.Format(time.DateOnly))] = true
		said[u.Day(day.Format(time.DateOnly))] = true
	}
	assert.Len(t, said, 2*365)
	testkit.Property(t, func(t *rapid.T) {
		share := rapid.Float64Range(-0.1, 1.1).Draw(t, "share")
		if english := figures.Part(share); !strings.HasSuffix(english, " %") {
			assert.NotEqual(t, english, u.Part(share))
		}
	})
}

// Units are those that were chosen, whatever the language, and so are their numbers.
func TestUnitsInSpanish(t *testing.T) {
	for _, u := range []figures.Units{figures.Both, figures.Metric, figures.US} {
		es := u.In(vocabulary.Spanish)
		assert.Equal(t, u.Area(12_345_678), es.Area(12_345_678), "the signs of Mexico are those of English")
		assert.Equal(t, []bool{u.InUS(), u.InBoth()}, []bool{es.InUS(), es.InBoth()})
		assert.Equal(t, u.String(), es.String())
		assert.Equal(t, vocabulary.English, u.Language())
		assert.NoError(t, es.Set("us"))
		assert.Equal(t, figures.US.In(vocabulary.Spanish), es, "the language stays")
	}
	us := figures.US.In(vocabulary.Spanish)
	assert.Equal(t, "22 pies²", us.Area(2))
	assert.Equal(t, "de 1 a 4 acres", us.Between(4047, 4*4047))
	assert.Equal(t, "cerca de 1 hectárea", figures.Metric.In(vocabulary.Spanish).Between(1e4, 1e4))
	assert.Equal(t, "menos de 0.1 %", us.Share(0.0001))
	assert.Equal(t, []string{"1 punto", "1,200 puntos"}, []string{us.Counted(1, "stop"), us.Counted(1200, "stop")})
}

// A part in words is never off by more than 2 % of the whole, at equality too.
func TestPartsInWords(t *testing.T) {
	for share, want := range map[float64]string{0: "none", 0.01: "hardly any", 0.02: "2 %", 0.038: "4 %", 0.062: "6 %", 0.0949: "9 %", 0.095: "a tenth", 0.103: "a tenth", 0.2: "a fifth", 0.24: "a quarter", 0.289: "29 %", 0.31: "31 %", 0.32: "a third", 0.38: "two fifths", 0.42: "two fifths", 0.421: "42 %", 0.46: "46 %", 0.48: "half", 0.52: "half", 0.521: "52 %", 0.94: "94 %", 0.96: "nearly all", 1: "all", 1.2: "all"} {
		assert.Equal(t, want, figures.Part(share), share)
	}
	of := map[string]float64{"a tenth": 1. / 10, "a seventh": 1. / 7, "a sixth": 1. / 6, "a fifth": 1. / 5, "a quarter": 1. / 4, "a third": 1. / 3, "two fifths": 2. / 5,
		"half": 1. / 2, "three fifths": 3. / 5, "two thirds": 2. / 3, "three quarters": 3. / 4, "four fifths": 4. / 5, "nine tenths": 9. / 10}
	testkit.Property(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.02, 0.95).Draw(t, "share")
		said, known := of[figures.Part(share)]
		if percent, ok := strings.CutSuffix(figures.Part(share), " %"); ok {
			n, err := strconv.Atoi(percent)
			said, known = float64(n)/100, err == nil
		}
		assert.True(t, known, figures.Part(share))
		assert.InDelta(t, share, said, 0.02+1e-9, figures.Part(share))
	})
}
