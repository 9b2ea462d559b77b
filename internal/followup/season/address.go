//go:build !js

package season

import (
	"net/url"
	"path/filepath"
	"strings"
)

// Name is what messages call a season: a file by its name without folder, a database by
// its host and its own name, so that no password is ever said.
func Name(path string) string {
	if !IsAddress(path) {
		return filepath.Base(path)
	}
	if u, whole := urlOf(path); whole && strings.Trim(u.Path, "/") != "" {
		return strings.TrimPrefix(u.Host+u.EscapedPath(), "/")
	}
	return "the database"
}

// Typed is a season as a command takes it: a file as it is, the address of a database
// without its password, which comes from elsewhere.
func Typed(path string) string {
	if !IsAddress(path) {
		return path
	}
	u, whole := urlOf(path)
	if !whole {
		return "postgres://USER@HOST/DATABASE"
	}
	if u.User != nil {
		u.User = url.User(u.User.Username())
	}
	asked := u.Query()
	asked.Del("password")
	asked.Del("sslpassword")
	u.RawQuery = asked.Encode()
	return u.String()
}

// urlOf is an address as a URL; whole is false where it is none, or was taken apart at a
// sign of its password.
func urlOf(address string) (u *url.URL, whole bool) {
	u, err := url.Parse(address)
	if err != nil || u.Scheme == "" || !strings.HasPrefix(address[len(u.Scheme):], "://") {
		return nil, false
	}
	// The driver takes the host to begin after the first @, and would ask for it by name.
	authority, _, _ := strings.Cut(address[len(u.Scheme)+len("://"):], "/")
	torn := strings.Count(authority, "@") > 1 || u.Fragment != "" || strings.Contains(u.EscapedPath(), "@") || strings.Contains(u.RawQuery, "@")
	return u, !torn
}
