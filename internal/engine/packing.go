//go:build !small

package engine

import (
	"io"
	"sync"
)

// packing is a document that is packed while it is written, for who asks for it next.
type packing struct {
	mu    sync.Mutex
	kept  *spool
	asked bool // for a document of which nothing was kept
}

// begin keeps what is packed from now on; nil where nobody will want it, who has it from
// elsewhere.
func (p *packing) begin() *spool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.asked {
		return nil
	}
	p.kept = &spool{}
	p.kept.more.L = &p.kept.mu
	return p.kept
}

// take is what was kept, or is being kept, and is had once; nil where there is nothing.
func (p *packing) take() *spool {
	p.mu.Lock()
	defer p.mu.Unlock()
	taken := p.kept
	p.kept, p.asked = nil, taken == nil
	return taken
}

// spool is what is written at one end, held until it is read at the other: unlike those of a
// pipe, none waits for the other to begin.
type spool struct {
	mu    sync.Mutex
	more  sync.Cond
	held  []byte
	ended bool
	err   error
}

// Write implements [io.Writer].
func (s *spool) Write(some []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.more.Signal()
	s.held = append(s.held, some...)
	return len(some), nil
}

// end tells that nothing more comes, and why.
func (s *spool) end(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ended, s.err = true, err
	s.more.Signal()
}

// copyTo writes all until the end.
func (s *spool) copyTo(w io.Writer) error {
	for {
		some, err := s.next()
		if len(some) == 0 {
			return err
		}
		if _, err := w.Write(some); err != nil {
			return err
		}
	}
}

// next is what is held, as soon as there is something; nothing at the end.
func (s *spool) next() ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(s.held) == 0 && !s.ended {
		s.more.Wait()
	}
	some := s.held
	s.held = nil
	return some, s.err
}
