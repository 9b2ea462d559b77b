package season

import (
	"regexp"
	"strings"
	"sync"
)

// Redacted is a text without the passwords of the addresses in it, however they and their
// schemes are written, since what was typed wrongly is repeated by whoever cannot read it.
func Redacted(text string) string {
	text = inURL().ReplaceAllStringFunc(text, redactedURL)
	text = signed().ReplaceAllStringFunc(text, redactedSigned)
	return afterWord().ReplaceAllString(text, "${1}…")
}

var (
	// inURL matches an address of whatever scheme up to its last @; one with blanks in it too,
	// which stand in passwords; and one without, up to its end.
	inURL = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)\b(?:postgres(?:ql)?:|[a-z][\w+.-]*[:;]?//)(?:[^\s"]*@|[^"\n]*@|[^\s"]+)`)
	})
	// signed matches a name and a password with no scheme before them.
	signed = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`([^\s"/:;@\\]+):([^\s"]+)@`)
	})
	// afterWord matches password=p, and p in quotation marks (PostgreSQL 15 documentation,
	// 34.1.1.1).
	afterWord = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)(password\s*=\s*)(?:'[^']*'?|[^\s&'"]+)`)
	})
)

// redactedURL leaves out what stands between a name and the last @, or, where there is none,
// what stands for the number of a port and is none.
func redactedURL(address string) string {
	begin := strings.IndexAny(address, ":;/") + 1
	begin += len(address[begin:]) - len(strings.TrimLeft(address[begin:], "/"))
	said, rest := address[:begin], address[begin:]
	end := len(rest)
	if i := strings.IndexAny(rest, "/?# "); i >= 0 {
		end = i
	}
	host, port, _ := strings.Cut(rest[:end], ":")
	isPort := strings.Trim(port, "0123456789") == ""
	who, signed := strings.CutSuffix(rest, "@")
	switch {
	case isPort && (!signed || strings.Contains(who, " ")): // an @ after blanks is of other words
		return address
	case signed:
		name, _, _ := strings.Cut(who, ":")
		return said + name + "@"
	}
	return said + host + ":…"
}

// redactedSigned leaves out what stands between a name and the last @; the address of one who
// gave a name alone, and a path on a lettered drive, stay.
func redactedSigned(text string) string {
	name, rest, _ := strings.Cut(text, ":")
	drive := len(name) == 1 && strings.IndexAny(rest, `/\`) == 0
	scheme := strings.EqualFold(name, "postgres") || strings.EqualFold(name, "postgresql")
	if drive || scheme || strings.HasPrefix(rest, "//") {
		return text
	}
	return name + "@"
}
