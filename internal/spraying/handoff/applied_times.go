package handoff

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// longestNight is for how long a spray may go on that ends on the next day by its times:
// hives are safest in the dark, and longer ones have a record for each day. Our choice, no source.
const longestNight = 12 * time.Hour

// Times refuses times of day that are none, and an end before the start; "" for none. A
// spray over midnight may be right, which the note says.
func (a Applied) Times() (note string, err error) {
	var at [2]time.Time
	for i, text := range []string{a.Start, a.End} {
		if strings.TrimSpace(text) == "" {
			continue
		}
		if at[i], err = timeOfDay(text); err != nil {
			return "", fmt.Errorf("--%s %q: %w", [...]string{"start", "end"}[i], text, err)
		}
	}
	if at[0].IsZero() || at[1].IsZero() || !at[1].Before(at[0]) {
		return "", nil
	}
	if at[1].Add(24*time.Hour).Sub(at[0]) > longestNight {
		return "", fmt.Errorf("--end %q lies before --start %q: correct one of them", a.End, a.Start)
	}
	return fmt.Sprintf("it ended at %s on the day after %s, by its times: is that right?", a.End, a.Date), nil
}

// timeOfDay reads a time as tables have it, or as people write it by hand: 6.40, 21h00, 9 pm,
// 0630. It is never the zero time.
func timeOfDay(text string) (time.Time, error) {
	plain := strings.ToLower(strings.Join(strings.Fields(text), ""))
	plain = strings.NewReplacer("a.m.", "am", "p.m.", "pm", ".", ":", "h", ":").Replace(plain)
	if hour := byHour().FindStringSubmatch(plain); hour != nil {
		plain = hour[1] + ":00" + hour[2]
	} else if len(plain) == 4 && !strings.Contains(plain, ":") {
		plain = plain[:2] + ":" + plain[2:]
	}
	clock, err := survey.ParseClock(plain)
	if err != nil {
		return time.Time{}, err
	}
	at, err := time.Parse("15:04", clock)
	return at.AddDate(1, 0, 0), err
}

// byHour is an hour of twelve without its minutes.
func byHour() *regexp.Regexp { return regexp.MustCompile(`^(\d{1,2})([ap]m)$`) }
