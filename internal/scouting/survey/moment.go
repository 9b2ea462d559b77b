//go:build !small

package survey

import (
	"errors"
	"fmt"
	"time"
)

// clockTail is a time of the day, to the second where it tells one, with the offset that may
// stand behind it and a name of it in brackets.
var clockTail = pattern(`(?i)\d{1,2}:\d{2}(?::(\d{2})(?:[.,]\d+)?)?(?:\s*[ap]\.?m\b\.?)?` +
	`\s*((?:utc|gmt)?\s*[-+−]\d{1,2}(?::?\d{2})?\b|(?:z|utc|gmt)\b)?(?:\s*\([^()]*\))?`)

// strayWord is a word right behind a time of the day.
var strayWord = pattern(`(?i):\d{2}(?:[.,]\d+)?(?:\s*[ap]\.?m\b\.?)?\s*([a-z]{2,5})\b`)

// oClock are words behind a time of the day that are no zone: English, German, Spanish,
// French.
var oClock = map[string]bool{"am": true, "pm": true, "hr": true, "hrs": true, "hs": true, "uhr": true, "horas": true}

// A moment is a point in time; rough is one to the minute, taken as its begin.
type moment struct {
	at    time.Time
	rough bool
}

// momentOf is a day and a time of the day as a moment. An offset or a day that stands by the
// time goes before those given: offset is that of clocks that do not tell theirs.
func momentOf(date, clock, offset string) (moment, error) {
	if at, err := time.Parse(time.RFC3339, clock); err == nil {
		return moment{at: at}, nil
	}
	seconds, zone, bare := cutZone(clock)
	rest, hours, ok := splitClock(bare)
	if !ok || hours == "" {
		return moment{}, fmt.Errorf("time %q: want hours and minutes, such as 07:42", clock)
	}
	iso, err := ParseDay(rest)
	if err != nil && (date != "" || rest == "") {
		iso, err = ParseDay(date)
	}
	if err != nil {
		return moment{}, fmt.Errorf("a place along a track wants the day beside the time: %w", err)
	}
	if zone == "" {
		if word := unknownZone(bare); word != "" {
			return moment{}, fmt.Errorf("time %q: %q is no zone that is known: write Z or an offset such as -05:00 behind the time", clock, word)
		}
		zone = offset
	}
	if zone == "" {
		return moment{}, errors.New("the track is in UTC, and nothing says how far the clocks of the counts are from it: give --utc-offset, such as -5")
	}
	minutes, err := ParseUTCOffset(zone)
	if err != nil {
		return moment{}, err
	}
	m := moment{rough: seconds == ""}
	if m.rough {
		seconds = "00"
	}
	m.at, err = time.Parse("2006-01-02 15:04:05", iso+" "+hours+":"+seconds)
	m.at = m.at.Add(-time.Duration(minutes) * time.Minute)
	return m, err
}

// cutZone takes the offset out of a text with a time of the day; seconds and zone are "" where
// it tells none.
func cutZone(text string) (seconds, zone, bare string) {
	if len(text) > longestTime {
		return "", "", text
	}
	m := clockTail().FindStringSubmatchIndex(text)
	if m == nil {
		return "", "", text
	}
	if m[2] >= 0 {
		seconds = text[m[2]:m[3]]
	}
	if m[4] < 0 {
		return seconds, "", text
	}
	return seconds, text[m[4]:m[5]], text[:m[4]] + " " + text[m[1]:]
}

// unknownZone is a word behind a time of the day that seems to name a zone, such as PDT, which
// stands for other offsets elsewhere; "" for none.
func unknownZone(text string) string {
	m := strayWord().FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	if word := plainWord(m[1]); oClock[word] || (*monthOf())[word] > 0 || (*besides())[word] {
		return ""
	}
	return m[1]
}
