package handoff

import (
	"fmt"
	"strings"
	"time"
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

// timeOfDay reads a time as people write it, in 24 hours or in twelve. It is never the zero
// time.
func timeOfDay(text string) (time.Time, error) {
	plain := strings.ToLower(strings.Join(strings.Fields(text), ""))
	for _, half := range []string{"a", "p"} {
		plain = strings.Replace(plain, half+".m.", half+"m", 1)
	}
	plain = strings.NewReplacer(".", ":", "h", ":").Replace(plain)
	for _, layout := range []string{"15:04", "15:04:05", "3:04pm", "3pm"} {
		if at, err := time.Parse(layout, plain); err == nil {
			return at.AddDate(1, 0, 0), nil
		}
	}
	return time.Time{}, fmt.Errorf("want a time of day such as 14:30 or 2:30 pm")
}
