package survey

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Times that tell an offset from UTC. One other than UTC is that of the place, so
// its day and time stand as they are written. UTC is what devices and feature files
// keep, and an evening's walk in America is tomorrow by it: it is taken to the
// place, by the offset that the options give, else by the one that other times of
// the file tell, else by the sun. The machine's own zone plays no part.

// farthestOffset is the farthest from UTC that clocks are set, in minutes: 14 h in
// the Line Islands (IANA time zone database).
const farthestOffset = 14 * 60

// ParseUTCOffset reads how far a clock is from UTC, such as -5, -05:00 or +5:30,
// east above 0, up to 14 hours.
func ParseUTCOffset(text string) (minutes int, err error) {
	plain := strings.ToUpper(strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-")))
	if plain == "Z" || plain == "UTC" || plain == "GMT" {
		return 0, nil
	}
	sign, hours, part := offsetParts(plain)
	if hours == "" {
		return 0, offsetError(text)
	}
	if minutes = 60*small(hours) + small(part); minutes > farthestOffset {
		return 0, offsetError(text)
	}
	if sign == "-" {
		minutes = -minutes
	}
	return minutes, nil
}

// offsetParts cuts an offset such as UTC-5, +05:30 or 530; hours are "" where it is none.
func offsetParts(text string) (sign, hours, minutes string) {
	for _, name := range [...]string{"UTC", "GMT"} {
		if behind, is := strings.CutPrefix(text, name); is {
			text = behind
			break
		}
	}
	text = trimmedLeft(text)
	if text != "" && (text[0] == '+' || text[0] == '-') {
		sign, text = text[:1], text[1:]
	}
	hours, minutes, parted := strings.Cut(text, ":")
	if !parted && len(text) > 2 {
		hours, minutes, parted = text[:len(text)-2], text[len(text)-2:], true
	}
	wrong := len(hours) > 2 || !isDigits(hours) || parted && (!isTwoDigits(minutes) || minutes > "59")
	if wrong {
		return "", "", ""
	}
	return sign, hours, minutes
}

func offsetError(text string) error {
	return fmt.Errorf("utc offset %q: want hours before or behind UTC, 14 at the most, such as -5, -05:00 or +5:30", text)
}

// OffsetText writes an offset in minutes as ISO 8601 does, such as -05:00.
func OffsetText(minutes int) string {
	sign := '+'
	if minutes < 0 {
		sign, minutes = '-', -minutes
	}
	return fmt.Sprintf("%c%02d:%02d", sign, minutes/60, minutes%60)
}

var zoned = pattern(`(?i)\d(?::\d\d)(?::\d\d(?:[.,]\d+)?)?(?:\s*[ap]m)?\s*(z|utc|gmt|[+-]\d\d(?::?\d\d)?)$`)

// zoneOf is the offset from UTC, in minutes, that a time tells behind it. It is
// asked of every row, so what cannot tell one is passed over first.
func zoneOf(text string) (minutes int, stated bool) {
	if len(text) < 5 || len(text) > longestTime || strings.IndexByte(text, ':') < 0 {
		return 0, false
	}
	if last := text[len(text)-1]; last >= '0' && last <= '9' && !strings.ContainsAny(text[len(text)-5:], "+-") && !strings.ContainsAny(text[max(0, len(text)-6):], "+-") {
		return 0, false
	}
	if minutes, ok := stampZone(text); ok {
		return minutes, true
	}
	m := zoned().FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	minutes, err := ParseUTCOffset(m[1])
	return minutes, err == nil
}

// stampForm is how a phone and most programs write a time: as RFC 3339 has it, to the second.
const stampForm = "0000-00-00T00:00:00+00:00"

// stampZone is what zoneOf finds in a time of that form, for a tenth of the work of a
// pattern; ok is false for all others.
func stampZone(text string) (minutes int, ok bool) {
	if len(text) != len(stampForm) {
		return 0, false
	}
	for i := range len(text) {
		c, form := text[i], stampForm[i]
		if form == '0' && (c < '0' || c > '9') || form != '0' && c != form && (form != '+' || c != '-') {
			return 0, false
		}
	}
	at := len(text) - len("+00:00")
	hours, minutes := small(text[at+1:at+3]), small(text[at+4:])
	if minutes > 59 || 60*hours+minutes > farthestOffset {
		return 0, false
	}
	minutes += 60 * hours
	if text[at] == '-' {
		minutes = -minutes
	}
	return minutes, true
}

// solarOffset is how far the sun is from that of Greenwich, in minutes: a degree
// in four. It differs from what clocks show by some two hours at the most, and
// nobody scouts around midnight, so the day is right.
func solarOffset(longitude float64) int { return int(math.Round(4 * longitude)) }

// moved adds minutes to a time of day, and to its date if one is stated.
func moved(date, clock string, minutes int) (string, string) {
	at := 60*small(clock[:2]) + small(clock[3:]) + minutes
	days := int(math.Floor(float64(at) / (24 * 60)))
	at -= days * 24 * 60
	if t, err := time.Parse(time.DateOnly, date); err == nil {
		date = t.AddDate(0, 0, days).Format(time.DateOnly)
	}
	return date, fmt.Sprintf("%02d:%02d", at/60, at%60)
}

// toPlace says how times of a column that are in UTC come to the place.
type toPlace uint8

const (
	asWritten toPlace = iota
	byOffset          // one for all
	bySun             // each by its longitude
)

// placeTime says how the times of a table are read.
type placeTime struct {
	given   bool // by the options, for every time that tells an offset
	minutes int
	bare    bool // a time without an offset is in UTC
	columns [2]toPlace
}

func (p *placeTime) of(c column) *toPlace { return &p.columns[c-colDate] }

// zone is the offset of a cell that was read as a time of day.
func (p placeTime) zone(c column, text string) (minutes int, stated bool) {
	minutes, stated = zoneOf(text)
	return minutes, stated || p.bare && c == colTime
}

// local is a date and time of day as they were at the place.
func (p placeTime) local(c column, text, date, clock string, longitude float64) (string, string) {
	if clock == "" {
		return date, clock
	}
	own, stated := p.zone(c, text)
	switch {
	case !stated:
	case p.given && *p.of(c) == byOffset:
		return moved(date, clock, p.minutes-own)
	case own != 0:
	case *p.of(c) == byOffset:
		return moved(date, clock, p.minutes)
	case *p.of(c) == bySun:
		return moved(date, clock, solarOffset(longitude))
	}
	return date, clock
}

// Hours at which nobody scouts, in minutes of the day. Common practice, no source.
const dusk, dawn = 21 * 60, 3 * 60

// isNight is asked of a time of the day moved by minutes.
func isNight(clock string, minutes int) bool {
	const day = 24 * 60
	at := ((60*small(clock[:2])+small(clock[3:])+minutes)%day + day) % day
	return at >= dusk || at < dawn
}

// placeTimeOf looks through the times of a table. A column in which every time in
// UTC is a midnight tells days. One of whose times in UTC any would fall into the
// night, though none does as it is written, was written by a program that marks
// any time so: that is not believed but of formats whose times are UTC by their
// standard, of which it is said.
func placeTimeOf(t table, l *layout, offset string) (p placeTime, notes []string, err error) {
	p.bare = t.BareUTC
	if offset != "" {
		if p.minutes, err = ParseUTCOffset(offset); err != nil {
			return p, nil, err
		}
		p.given = true
	}
	for _, c := range [...]column{colDate, colTime} {
		seen := p.look(t, l, c)
		if seen.first == "" {
			continue
		}
		switch {
		case seen.days:
		case p.given:
			*p.of(c) = byOffset
		case seen.other != nil:
			*p.of(c), p.minutes = byOffset, *seen.other
			notes = append(notes, fmt.Sprintf("%s: times in UTC are read at the offset of the others, %s", t.File, OffsetText(p.minutes)))
		case seen.dark != "" && !seen.strict:
			notes = append(notes, fmt.Sprintf("%s: times such as %q are marked UTC, would then lie in the night, and are read as they stand; if they are UTC, give --utc-offset (%s)",
				t.File, shorten(seen.dark), exampleOffset(seen.longitude)))
		default:
			*p.of(c) = bySun
			note := fmt.Sprintf("%s: times are in UTC: taken as %s by the sun; if you know your clock, give --utc-offset (%s)",
				t.File, seen.local(), exampleOffset(seen.longitude))
			if seen.dark != "" {
				note += fmt.Sprintf("; times such as %q lie in the night so: if they are those of clocks at the place, give --utc-offset 0", shorten(seen.dark))
			}
			notes = append(notes, note)
		}
	}
	return p, notes, nil
}

// exampleOffset shows what is meant. It names no zone: the sun does not tell how
// clocks are set.
func exampleOffset(longitude float64) string {
	if longitude < 0 {
		return "for example -5 where clocks are five hours behind UTC"
	}
	return "for example +2 where clocks are two hours ahead of UTC"
}

// timesSeen is what the times of a column tell together.
type timesSeen struct {
	first     string  // in UTC, or of any offset if one is given; "" for none
	longitude float64 // of it
	days      bool    // each in UTC is at midnight
	dark      string  // first that falls into the night by the sun, where none does as written; "" for none
	strict    bool    // UTC by the standard of the format
	other     *int    // offset of those that are not in UTC, where it is one
	// Of all by the sun where the first is, as ISO 8601, "" where no date is stated.
	firstDay, lastDay string
	part              string // of the day, "" where they lie in several
}

// sun takes in what a time in UTC is by the sun at the first place.
func (s *timesSeen) sun(date, clock string) {
	day, at := moved(date, clock, solarOffset(s.longitude))
	part := partOfDay(at)
	if s.part == "" && s.lastDay == "" {
		s.firstDay, s.lastDay, s.part = day, day, part
		return
	}
	s.firstDay, s.lastDay = min(s.firstDay, day), max(s.lastDay, day)
	if part != s.part {
		s.part = ""
	}
}

// local says which days, or which part of one, the times are by the sun.
func (s timesSeen) local() string {
	switch {
	case s.firstDay == "":
		return "local time"
	case s.firstDay != s.lastDay:
		return fmt.Sprintf("local days from %s to %s", s.firstDay, s.lastDay)
	case s.part == "":
		return "local times of " + s.firstDay
	}
	return fmt.Sprintf("the local %s of %s", s.part, s.firstDay)
}

// partOfDay is a name for a time of day. Common practice, no source.
func partOfDay(clock string) string {
	switch hour := small(clock[:2]); {
	case hour < 4 || hour >= 22:
		return "night"
	case hour < 12:
		return "morning"
	case hour < 17:
		return "afternoon"
	}
	return "evening"
}

func (p placeTime) look(t table, l *layout, c column) timesSeen {
	s := timesSeen{days: true}
	several, lit := false, !p.given // none in the night as it is written
	for _, r := range t.Rows {
		text := l.text(r, c)
		own, stated := zoneOf(text)
		if !stated && !(p.bare && c == colTime && text != "") {
			continue
		}
		if stated && own != 0 && !p.given {
			several = several || s.other != nil && *s.other != own
			s.other = &own
			continue
		}
		date, clock, ok := l.parseTime(text)
		if !ok || clock == "" {
			continue
		}
		if s.first != "" && own == 0 {
			s.sun(date, clock)
		}
		s.days = s.days && own == 0 && stated && clock == "00:00"
		s.strict, lit = s.strict || stated && t.StrictUTC, lit && !isNight(clock, 0)
		if s.first != "" && (!lit || s.dark != "") {
			continue
		}
		rd := reader{layout: l, table: t, row: r}
		longitude, _ := rd.position()
		if s.first == "" {
			s.first, s.longitude = text, longitude
			s.sun(date, clock)
		}
		if isNight(clock, solarOffset(longitude)) {
			s.dark = text
		}
	}
	if !lit {
		s.dark = ""
	}
	if several {
		s.other = nil
	}
	return s
}

// LocalDay is the day, at a place, of a date with a time of day in UTC; of any other
// time it is the day as written. A midnight in UTC is a day to which a program gave
// a time. What is no date comes back as it is.
func LocalDay(text string, longitude float64) string {
	date, clock, ok := monthFirst.parseTime(strings.TrimSpace(text))
	if !ok || date == "" || clock == "" {
		return text
	}
	if own, stated := zoneOf(strings.TrimSpace(text)); stated && own == 0 && clock != "00:00" {
		date, _ = moved(date, clock, solarOffset(longitude))
	}
	return date
}
