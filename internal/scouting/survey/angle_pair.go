//go:build !small

package survey

import (
	"cmp"
	"errors"
	"math"
	"strings"
)

// An anglePair is two angles that stand in one cell, in their order.
type anglePair struct {
	text  [2]string // with points before decimals
	value [2]float64
	order pairOrder // as the cell itself tells it
	by    teller    // of order
	more  bool      // altitude or accuracy stand behind them
}

// A teller is what in a cell tells which of its angles is the latitude.
type teller uint8

const (
	byLetters teller = iota // of hemispheres
	byWords                 // "Lat" and "Long", or well-known text
)

var (
	namedAngles = pattern(`(?i)^(lat|latitude?|lon|long|lng|longitude?)\b[.:=\s]*(.+?)[\s,;/|]+(lat|latitude?|lon|long|lng|longitude?)\b[.:=\s]*(.+)$`)
	degreesEach = pattern(`^([^°º˚]*[°º˚][^°º˚]*?)([\s,;/|]+)([-+−]?\s*\d+(?:[.,]\d+)?\s*[°º˚][^°º˚]*)$`)
	letterFirst = pattern(`^([^NSEWnsew]+[NSEWnsew])[\s,;/|]+([-+−][^NSEWnsew]+)$`)
)

// anglePairOf cuts a cell such as "27.1234, -97.5678", "27.1234N 97.5678W" or "27,1234; -97,5678".
// Both need decimals, signs of degrees or letters: 2/3 is a plot, and 27,97 may be one number.
// oeste says that O is west, as in Spanish; in German it is east, so that it is no letter elsewhere.
func anglePairOf(cell string, oeste bool) (p anglePair, is bool) {
	text := strings.TrimSpace(cell)
	if m := pointText().FindStringSubmatch(text); m != nil {
		return pairOf(m[1], m[2], longitudeFirst)
	}
	west := func(text string) string {
		if oeste {
			return strings.ReplaceAll(text, "O", "W")
		}
		return text
	}
	text = strings.TrimSpace(strings.Trim(text, "()[]"))
	if m := namedAngles().FindStringSubmatch(text); m != nil {
		first := axisNamed(m[1])
		if first == axisNamed(m[3]) {
			return anglePair{}, false
		}
		return pairOf(west(m[2]), west(m[4]), first)
	}
	text = west(text)
	for _, cut := range [...]func(string) (string, string, bool){cutAtHemisphere, cutAtDegrees, cutAfterLetter, cutAtSign} {
		if first, second, is := cut(text); is {
			return pairOf(first, second, noOrder)
		}
	}
	if first, second, is := cutBefore(text); is {
		p, is = pairOf(first, second, noOrder)
		p.more = true
		return p, is
	}
	return anglePair{}, false
}

func axisNamed(word string) pairOrder {
	if latitudeWords()[plainWord(word)] {
		return latitudeFirst
	}
	return longitudeFirst
}

// pairOf reads two angles of the two axes; told is the order that the cell gives in words.
func pairOf(first, second string, told pairOrder) (p anglePair, is bool) {
	const most = 180 // degrees
	p.text = [2]string{first, second}
	for i := range p.text {
		text := strings.Trim(p.text[i], " ,;/|\u00a0")
		value, axis, ok := oneAngle(text)
		if i == 1 && axis != noOrder {
			axis = latitudeFirst + longitudeFirst - axis
		}
		if !ok || !exact(text) || math.Abs(value) > most || axis != noOrder && p.order != noOrder && axis != p.order { // of one axis both
			return anglePair{}, false
		}
		p.text[i], p.value[i], p.order = strings.ReplaceAll(text, ",", "."), value, cmp.Or(p.order, axis)
	}
	if told == noOrder {
		return p, true
	}
	if p.order != noOrder && p.order != told {
		return anglePair{}, false
	}
	p.order, p.by = told, byWords
	return p, true
}

// exact reports whether an angle is written as places are, and as no number of a plot is.
func exact(text string) bool {
	return strings.ContainsAny(text, ".,°º˚NSEWnsew")
}

// oneAngle reads an angle of either axis; axis is the order that it gives as it is the first.
func oneAngle(text string) (value float64, axis pairOrder, ok bool) {
	d := decimals{comma: strings.Contains(text, ",")}
	d.marks.comma = d.comma
	value, _, err := d.parseAngle(text, "NS")
	if errors.Is(err, errAxis) {
		value, _, err = d.parseAngle(text, "EW")
		return value, longitudeFirst, err == nil
	}
	if strings.ContainsAny(text, "NSns") {
		axis = latitudeFirst
	}
	return value, axis, err == nil
}

// cutAtHemisphere cuts between two angles that each have their letter before or behind them.
func cutAtHemisphere(text string) (first, second string, is bool) {
	const letters = "NSEWnsew"
	a, b := strings.IndexAny(text, letters), strings.LastIndexAny(text, letters)
	switch {
	case a < 0 || a == b:
		return "", "", false
	case a > 0:
		b = a + 1
	}
	return text[:b], text[b:], true
}

// cutAtDegrees cuts before the number of the second of two signs of degrees; not at a comma
// between two figures, which may be that of decimals.
func cutAtDegrees(text string) (first, second string, is bool) {
	m := degreesEach().FindStringSubmatch(text)
	if m == nil || m[2] == "," && isDigits(m[1][len(m[1])-1:]) && isDigits(m[3][:1]) {
		return "", "", false
	}
	return m[1], m[3], true
}

// cutAfterLetter cuts between a letter and a sign, which have one of the two each.
func cutAfterLetter(text string) (first, second string, is bool) {
	m := letterFirst().FindStringSubmatch(text)
	if m == nil {
		return "", "", false
	}
	return m[1], m[2], true
}

// cutAtSign cuts at the sign or blank between two angles, where it can be no part of a number.
func cutAtSign(text string) (first, second string, is bool) {
	for _, sign := range [...]string{";", "/", "|"} {
		if strings.Count(text, sign) == 1 {
			return strings.Cut(text, sign)
		}
	}
	point, words := strings.Contains(text, "."), strings.Fields(text)
	apart := func(sign string) bool {
		return len(words) == 2 && strings.Count(words[0], sign) == 1 && strings.Count(words[1], sign) == 1
	}
	switch commas := strings.Count(text, ","); {
	case commas == 1 && point:
		return strings.Cut(text, ",")
	case commas == 3 && !point && strings.Count(text, ", ") == 1:
		return strings.Cut(text, ", ")
	case commas == 0 && apart("."), commas == 2 && !point && apart(","):
		return words[0], words[1], true
	}
	return "", "", false
}

// cutBefore cuts two angles with decimals from one or two numbers behind them: altitude and
// accuracy, as forms write a point. Common practice, no source.
func cutBefore(text string) (first, second string, is bool) {
	parts := strings.Fields(text)
	if strings.Contains(text, ",") {
		parts = strings.Split(text, ",")
	}
	if len(parts) < 3 || len(parts) > 4 {
		return "", "", false
	}
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
		if !isPlain(parts[i]) || i < 2 && !strings.Contains(parts[i], ".") {
			return "", "", false
		}
	}
	return parts[0], parts[1], len(parts) < 4 || parts[3][0] != '-'
}
