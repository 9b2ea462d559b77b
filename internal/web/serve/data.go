package serve

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
)

// User is the name that a map program gives with a token: it asks for a name and a password
// (RFC 7617) and can set no header.
const User = "geocoris"

// shortestToken keeps out tokens that can be guessed.
const shortestToken = 16

// Data are what a server shows other programs.
type Data struct {
	Handler http.Handler
	Address string // to listen at; "" for that of this machine alone
	Port    int    // 0 for one that is free
	Token   string // "" for a new one where others reach the address, and for none where they do not
}

// A DataServer shows data to programs, such as those for maps.
type DataServer struct {
	data     Data
	listener net.Listener
	alone    bool // nobody but this machine reaches it
}

// ListenData makes a server of data. It listens on the loopback address, if no other is
// asked for.
func ListenData(ctx context.Context, d Data) (*DataServer, error) {
	if d.Address == "" {
		d.Address = loopback
	}
	if d.Token != "" && len(d.Token) < shortestToken {
		return nil, fmt.Errorf("the token has %d characters: want %d or more, so that nobody guesses it", len(d.Token), shortestToken)
	}
	l, err := listenAt(ctx, d.Address, d.Port)
	if err != nil {
		return nil, err
	}
	at, isTCP := l.Addr().(*net.TCPAddr)
	s := &DataServer{d, l, isTCP && at.IP.IsLoopback()}
	if !s.alone && d.Token == "" {
		s.data.Token = rand.Text()
	}
	return s, nil
}

// Address is where the data are.
func (s *DataServer) Address() string { return "http://" + s.listener.Addr().String() + "/" }

// Addresses are those by which the data are reached: of one that listens on all networks,
// those of this machine, IPv4 first; its own alone where it is on no network.
func (s *DataServer) Addresses() []string {
	at, isTCP := s.listener.Addr().(*net.TCPAddr)
	if !isTCP || !at.IP.IsUnspecified() {
		return []string{s.Address()}
	}
	found, err := net.InterfaceAddrs()
	if err != nil {
		found = nil // which addresses there are is then unknown
	}
	var all []string
	for _, ip := range reachable(found) {
		all = append(all, "http://"+net.JoinHostPort(ip.String(), strconv.Itoa(at.Port))+"/")
	}
	return all
}

// reachable are the addresses by which others reach a machine, IPv4 first; the loopback
// address where there are none.
func reachable(found []net.Addr) []net.IP {
	var four, six []net.IP
	for _, a := range found {
		of, ok := a.(*net.IPNet)
		switch {
		case !ok || !of.IP.IsGlobalUnicast(): // neither loopback nor link-local
		case of.IP.To4() != nil:
			four = append(four, of.IP)
		default:
			six = append(six, of.IP)
		}
	}
	if len(four)+len(six) == 0 {
		return []net.IP{net.ParseIP(loopback)}
	}
	return append(four, six...)
}

// Token is what is asked for; "" for nothing.
func (s *DataServer) Token() string { return s.data.Token }

// Alone reports that nobody but this machine reaches the data.
func (s *DataServer) Alone() bool { return s.alone }

// Run answers until the context ends, which is no error.
func (s *DataServer) Run(ctx context.Context) error {
	return run(ctx, s.listener, behind(s.data.Handler, s.guards()...))
}

// guards keep pages of strangers out as those before a page do; what others reach, and what
// was given a token, asks for it.
func (s *DataServer) guards() []guard {
	all := []guard{headed, ofNoPage}
	if s.alone {
		all = append(all, ownHost(s.listener.Addr().String()))
	}
	if s.data.Token != "" {
		all = append(all, withPassword(s.data.Token))
	}
	return all
}

// ofNoPage lets through what says no origin, as programs do, and what a person opens.
var ofNoPage = refusing(http.StatusForbidden, "another page may not ask here", func(r *http.Request) bool {
	if from := r.Header.Values("Origin"); len(from) > 0 && (len(from) != 1 || from[0] != "http://"+r.Host) {
		return false
	}
	site := r.Header.Get("Sec-Fetch-Site")
	return site == "" || site == "same-origin" || site == "none"
})

// withPassword wants the token as a password, with whatever name, or as a bearer token
// (RFC 6750).
func withPassword(token string) guard {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			_, given, _ := r.BasicAuth()
			if bearer, is := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer "); is {
				given = bearer
			}
			if subtle.ConstantTimeCompare([]byte(given), []byte(token)) != 1 {
				w.Header().Set("WWW-Authenticate", `Basic realm="geocoris", charset="UTF-8"`)
				http.Error(w, "give the token that the program printed as the password", http.StatusUnauthorized)
				return
			}
			next.ServeHTTP(w, r)
		})
	}
}
