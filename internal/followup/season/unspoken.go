package season

import (
	"regexp"
	"strings"
	"sync"
)

// Unspoken is a text without the passwords of the addresses of databases in it, however
// they are written, since what was typed wrongly is repeated by whoever cannot read it.
func Unspoken(text string) string {
	text = inURL().ReplaceAllStringFunc(text, unspokenURL)
	return afterWord().ReplaceAllString(text, "${1}…")
}

var (
	// inURL matches an address up to its last @; one with blanks in it too, which stand in
	// passwords; and one without, up to its end.
	inURL = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)\bpostgres(?:ql)?:(?:[^\s"]*@|[^"]*@|[^\s"]+)`)
	})
	// afterWord matches password=p, and p in quotation marks (PostgreSQL 15 documentation,
	// 34.1.1.1).
	afterWord = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)(password\s*=\s*)(?:'[^']*'?|[^\s&'"]+)`)
	})
)

// unspokenURL leaves out what stands between a name and the last @, or, where there is none,
// what stands for the number of a port and is none.
func unspokenURL(address string) string {
	begin := strings.Index(address, ":") + 1
	begin += len(address[begin:]) - len(strings.TrimLeft(address[begin:], "/"))
	said, rest := address[:begin], address[begin:]
	if who, signed := strings.CutSuffix(rest, "@"); signed {
		name, _, _ := strings.Cut(who, ":")
		return said + name + "@"
	}
	end := len(rest)
	if i := strings.IndexAny(rest, "/?#"); i >= 0 {
		end = i
	}
	host, port, _ := strings.Cut(rest[:end], ":")
	if strings.Trim(port, "0123456789") == "" {
		return address
	}
	return said + host + ":…"
}
