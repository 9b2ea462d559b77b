package serve

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"time"

	"github.com/geocoris/geocoris/internal/web/call"
)

// A Site is what a server shows and how it answers.
type Site struct {
	Page   fs.FS  // files of the page
	Entry  string // the file of it that comes for /
	Answer func(context.Context, call.Call) call.Reply
}

// Times and sizes that a server holds its callers to. An answer may take as long as it
// takes: who no longer waits for it ends it by hanging up.
const (
	headTime  = 10 * time.Second
	bodyTime  = time.Minute
	idleTime  = 2 * time.Minute
	endTime   = time.Second // for answers under way when the server ends
	mostHead  = 16 << 10
	mostBytes = 160 << 20 // of a call: its readers take up to 64 MiB of a file
)

// A Server listens from the moment that it is made, so that its address is its own.
type Server struct {
	site     Site
	listener net.Listener
	token    string
}

// Listen makes a server of a site on the loopback address, at a port, or at one that is
// free where it is 0.
func Listen(ctx context.Context, site Site, port int) (*Server, error) {
	l, err := listenAt(ctx, loopback, port)
	if err != nil {
		return nil, err
	}
	return &Server{site: site, listener: l, token: rand.Text()}, nil
}

// loopback is the address that nobody but this machine reaches.
const loopback = "127.0.0.1"

func listenAt(ctx context.Context, address string, port int) (net.Listener, error) {
	if port < 0 || port > 65535 {
		return nil, fmt.Errorf("--port %d: want 1 to 65535, or 0 for one that is free", port)
	}
	var config net.ListenConfig
	return config.Listen(ctx, "tcp", net.JoinHostPort(address, strconv.Itoa(port)))
}

// Address is that of the page, with the token behind the #, which no browser sends on.
func (s *Server) Address() string { return "http://" + s.host() + "/#" + s.token }

func (s *Server) host() string { return s.listener.Addr().String() }

// Run answers until the context ends, which is no error; calls under way are given up.
func (s *Server) Run(ctx context.Context) error {
	return run(ctx, s.listener, s.site.handler(guardsOf(s.host(), s.token, mostBytes)))
}

// run answers at a listener until the context ends.
func run(ctx context.Context, l net.Listener, h http.Handler) error {
	server := &http.Server{
		Handler:           h,
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ReadHeaderTimeout: headTime, ReadTimeout: bodyTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHead,
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	soon, cancel := context.WithTimeout(context.WithoutCancel(ctx), endTime)
	defer cancel()
	if err := server.Shutdown(soon); errors.Is(err, context.DeadlineExceeded) {
		return server.Close()
	} else if err != nil {
		return err
	}
	return nil
}
