package jobsheet

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// Zones tell in English, as files do in every language, what they are of, how far their map
// may be believed and what was not read. Here it is said in that of the sheet.

// eachUnit says a statistic of zones behind a level: a leaf for mean per leaf.
func eachUnit(statistic string, u figures.Units) string {
	if unit, mean := strings.CutPrefix(statistic, "mean per "); mean {
		return u.Each(unit)
	}
	return shareIn(statistic, u)
}

var (
	shareOver   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^% of (\S+) at or above (\S+)$`) })
	shareWith   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^% of (\S+) with a (\S+) at or above (\S+)$`) })
	shareOfSign = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^% of (\S+) with (.+)$`) })
)

// shareIn says a share of zones, [assess.Statistic.String], in a language; what is none
// stays as it is.
func shareIn(statistic string, u figures.Units) string {
	var s assess.Statistic
	var units string
	if m := shareOver().FindStringSubmatch(statistic); m != nil {
		units, s.Tally = m[1], number(m[2])
	} else if m := shareWith().FindStringSubmatch(statistic); m != nil {
		units, s.Part, s.Tally = m[1], m[2], number(m[3])
	} else if m := shareOfSign().FindStringSubmatch(statistic); m != nil && m[2] == "any" {
		units, s.Part, s.Tally = m[1], "leaf", 1
	} else if m != nil {
		units, s.Sign = m[1], m[2]
	}
	s.Unit = strings.TrimSuffix(units, "s")
	if units == "leaves" {
		s.Unit = "leaf"
	}
	if s.String() != statistic {
		return statistic
	}
	return s.In(u.Language())
}

func number(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}

// plainTrust is how far the map may be believed, as zones tell it, without figures.
func plainTrust(trust string, u figures.Units) string {
	if u.Language() != vocabulary.English {
		text, _, _ := strings.Cut(trustIn(trust, u), ";")
		return text
	}
	text, _, _ := strings.Cut(trust, ": skill")
	text, _, _ = strings.Cut(text, ": spraying the treat zone")
	return strings.NewReplacer("the field's mean", "the average", "its zones alone", "its red ground alone").Replace(text)
}

// trusts are what zones may tell, the longer before those that they begin with.
var trusts = [...]vocabulary.Key{vocabulary.TrustBetterForDeciding, vocabulary.TrustBetter, vocabulary.TrustNoBetter, vocabulary.TrustNothingToMap}

// trustIn is how far the map may be believed, with the figure of zones.
func trustIn(trust string, u figures.Units) string {
	l := u.Language()
	if l == vocabulary.English {
		return trust
	}
	var figure float64
	if n, _ := fmt.Sscanf(trust, "these stops speak for %g ha only", &figure); n == 1 {
		return u.Say("these stops speak for %.2g ha only: walk the rest of the field, or decide on that part", figure)
	}
	for _, k := range trusts {
		rest, ok := strings.CutPrefix(trust, vocabulary.English.Word(k))
		if !ok {
			continue
		}
		if n, _ := fmt.Sscanf(rest, ": skill %g", &figure); n == 1 {
			return l.Word(k) + "; " + u.Say("skill %.2f", figure)
		}
		return l.Word(k)
	}
	return trust
}

var (
	lacked = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(the count of|the place of|place and count of) (a stop|stop (.+?))((?: \(.*\))?)$`)
	})
	lackedRow = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^a row((?: \(.*\))?)$`) })
	lackedAll = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^and (\d+) more$`) })
)

// notReadIn says in a language what zones say was not read; what it does not know stays as
// it is.
func notReadIn(text string, u figures.Units) string {
	if u.Language() == vocabulary.English {
		return text
	}
	parts := strings.Split(text, ", ")
	for i, part := range parts {
		parts[i] = lackedIn(part, u)
	}
	return strings.Join(parts, ", ")
}

func lackedIn(part string, u figures.Units) string {
	if m := lackedRow().FindStringSubmatch(part); m != nil {
		return u.Text("a row") + m[1]
	}
	if m := lackedAll().FindStringSubmatch(part); m != nil {
		return u.Say("and %s more", m[1])
	}
	m := lacked().FindStringSubmatch(part)
	if m == nil {
		return part
	}
	stop := u.Text("a stop")
	if m[3] != "" {
		stop = u.Say("stop %s", m[3])
	}
	switch m[1] {
	case "the count of":
		stop = u.Say("the count of %s", stop)
	case "the place of":
		stop = u.Say("the place of %s", stop)
	default:
		stop = u.Say("place and count of %s", stop)
	}
	return stop + m[4]
}

var (
	toWalk = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`walk ([\d,]+) more stops? ?(.*?), (?:today|as well)`)
	})
	roundStop  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^round stop (.+)$`) })
	roundStops = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^round stops (.+) and (.+)$`) })
	unreadRows = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\d+) rows could not be read`) })
	onePlaceOf = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^stop (.+) has the place of stop (.+)$`) })
	placesOf   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\d+) stops have the place of another`) })
	twoCounts  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\d+) places? with two counts`) })
	unreadRow  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(.+?) could not be read`) })
)

// findOutIn says in a language what the heading of an undecided field asks to find out,
// behind a colon; "" for what it does not know, which stands on the map's page.
func findOutIn(text string, u figures.Units) string {
	var parts []string
	if m := unreadRows().FindStringSubmatch(text); m != nil {
		parts = append(parts, u.Say("%d rows could not be read", int(number(m[1]))))
	} else if m := unreadRow().FindStringSubmatch(text); m != nil {
		parts = append(parts, u.Say("%s could not be read", notReadIn(m[1], u)))
	} else if m := onePlaceOf().FindStringSubmatch(text); m != nil {
		parts = append(parts, u.Say("stop %s has the place of stop %s", m[1], m[2]))
	} else if m := placesOf().FindStringSubmatch(text); m != nil {
		parts = append(parts, u.Say("%d stops have the place of another", int(number(m[1]))))
	} else if m := twoCounts().FindStringSubmatch(text); m != nil {
		parts = append(parts, u.Say("%s with two counts", u.Counted(int(number(m[1])), "place")))
	}
	if m := toWalk().FindStringSubmatch(text); m != nil {
		more := u.Say("walk %s", u.Counted(int(number(strings.ReplaceAll(m[1], ",", ""))), "more stop"))
		parts = append(parts, u.Say("%s, today", whereIn(more, m[2], u)))
	}
	if parts == nil {
		return ""
	}
	return ": " + strings.Join(parts, "; ")
}

// whereIn adds to more stops where they are to be walked.
func whereIn(more, where string, u figures.Units) string {
	if m := roundStops().FindStringSubmatch(where); m != nil {
		return u.Say("%s round stops %s and %s", more, m[1], m[2])
	}
	if m := roundStop().FindStringSubmatch(where); m != nil {
		return u.Say("%s round stop %s", more, m[1])
	}
	return strings.TrimSpace(more + " " + u.Text(where))
}
