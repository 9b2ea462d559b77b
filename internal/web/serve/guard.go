package serve

import (
	"crypto/subtle"
	"net/http"
	"slices"
)

// tokenHeader is where a page puts the token. A page of another origin cannot set it
// without being asked first, and nobody answers that question.
const tokenHeader = "Geocoris-Token"

// A guard lets a request through to the next handler, or refuses it.
type guard func(next http.Handler) http.Handler

// behind puts a handler behind guards; the first given is asked first.
func behind(h http.Handler, guards ...guard) http.Handler {
	for _, g := range slices.Backward(guards) {
		h = g(h)
	}
	return h
}

// guards are those before the page and those before the calls.
type guards struct{ page, calls []guard }

func guardsOf(host, token string, most int64) guards {
	every := []guard{headed, ownHost(host), ownOrigin(host)}
	return guards{
		page:  append(slices.Clip(every), onlyMethods(http.MethodGet, http.MethodHead)),
		calls: append(slices.Clip(every), onlyMethods(http.MethodPost), withToken(token), ofType(frameType), upTo(most)),
	}
}

// refusing is a guard that refuses by a status where a request is not to pass.
func refusing(status int, why string, passes func(*http.Request) bool) guard {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if !passes(r) {
				http.Error(w, why, status)
				return
			}
			next.ServeHTTP(w, r)
		})
	}
}

// ownHost wants the host to the letter: a test of its beginning would let
// 127.0.0.1.evil.example through.
func ownHost(host string) guard {
	return refusing(http.StatusMisdirectedRequest, "this server answers at its own address only", func(r *http.Request) bool { return r.Host == host })
}

// ownOrigin wants requests of a page to be those of its own. What says no origin is no
// page's, or a plain look at one; calls need the token besides.
func ownOrigin(host string) guard {
	return refusing(http.StatusForbidden, "another page may not ask here", func(r *http.Request) bool {
		if from := r.Header.Values("Origin"); len(from) > 0 && (len(from) != 1 || from[0] != "http://"+host) {
			return false
		}
		site := r.Header.Get("Sec-Fetch-Site")
		return site == "" || site == "same-origin" || site == "none" // typed, or opened by a program
	})
}

func onlyMethods(methods ...string) guard {
	return refusing(http.StatusMethodNotAllowed, "this is asked for in another way", func(r *http.Request) bool { return slices.Contains(methods, r.Method) })
}

func withToken(token string) guard {
	return refusing(http.StatusUnauthorized, "open the address that the program printed", func(r *http.Request) bool {
		return subtle.ConstantTimeCompare([]byte(r.Header.Get(tokenHeader)), []byte(token)) == 1
	})
}

// ofType wants a type that no form can send.
func ofType(kind string) guard {
	return refusing(http.StatusUnsupportedMediaType, "want "+kind, func(r *http.Request) bool { return r.Header.Get("Content-Type") == kind })
}

// upTo cuts off what is larger; who reads on has a [http.MaxBytesError].
func upTo(most int64) guard {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			r.Body = http.MaxBytesReader(w, r.Body, most)
			next.ServeHTTP(w, r)
		})
	}
}

// policy is that of the page (Content Security Policy Level 3, W3C): nothing comes from
// anywhere else or goes there, and no other page shows it in a frame.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// headed puts the headers on every answer, also on those that refuse.
func headed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}
