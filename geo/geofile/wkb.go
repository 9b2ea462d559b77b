package geofile

import (
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// DecodeWKB reads a geometry in well-known binary (OGC 06-103r4, 8.2; with heights or
// measures ISO/IEC 13249-3, whose kinds are 1000, 2000 and 3000 more), of at most
// limits.Depth levels of nesting and limits.Vertices positions. Heights and measures are
// left out. Depth and lengths are looked at before anything is decoded: decoding descends
// without a bound, and a stack that overflows ends the program.
func DecodeWKB(data []byte, limits Limits) (orb.Geometry, error) {
	limits = limits.withDefaults()
	s := wkbScan{rest: data, depth: limits.Depth, positions: uint64(limits.Vertices), flat: make([]byte, 0, len(data))}
	if err := s.geometry(1); err != nil {
		return nil, err
	}
	return wkb.Unmarshal(s.flat)
}

// wkbScan passes over well-known binary and copies it without heights and measures.
type wkbScan struct {
	rest      []byte
	flat      []byte
	depth     int
	positions uint64 // that may still come
}

// wkbForm is how a geometry is written: its bytes' order, and how many numbers a position
// of it has.
type wkbForm struct {
	order   binary.ByteOrder
	numbers int
}

var errShortWKB = errors.New("it breaks off")

// geometry passes over one geometry, which lies on the given level of nesting.
func (s *wkbScan) geometry(level int) error {
	if level > s.depth {
		return fmt.Errorf("nested too deep: more than %d levels", s.depth)
	}
	if len(s.rest) < 5 {
		return errShortWKB
	}
	f := wkbForm{order: binary.BigEndian}
	if s.rest[0] == 1 {
		f.order = binary.LittleEndian
	}
	kind := f.order.Uint32(s.rest[1:])
	plain := kind % 1000
	if kind >= 4000 || plain < 1 || plain > 7 {
		return fmt.Errorf("%d is no type of geometry that is read", kind)
	}
	f.numbers = [...]int{2, 3, 3, 4}[kind/1000]
	at := len(s.flat)
	s.copied(5)
	f.order.PutUint32(s.flat[at+1:], plain)
	switch plain {
	case 1: // point
		return s.skip(1, f)
	case 2: // line
		return s.line(f)
	case 3: // polygon
		return s.each(f, func() error { return s.line(f) })
	}
	// of points, lines, polygons, anything
	return s.each(f, func() error { return s.geometry(level + 1) })
}

func (s *wkbScan) each(f wkbForm, one func() error) error {
	n, err := s.count(f)
	for ; n > 0 && err == nil; n-- {
		err = one()
	}
	return err
}

func (s *wkbScan) line(f wkbForm) error {
	n, err := s.count(f)
	if err != nil {
		return err
	}
	return s.skip(uint64(n), f)
}

func (s *wkbScan) count(f wkbForm) (uint32, error) {
	if len(s.rest) < 4 {
		return 0, errShortWKB
	}
	n := f.order.Uint32(s.rest)
	s.copied(4)
	return n, nil
}

// skip passes over positions.
func (s *wkbScan) skip(n uint64, f wkbForm) error {
	if n > uint64(len(s.rest))/uint64(8*f.numbers) {
		return errShortWKB
	}
	if n > s.positions {
		return errors.New("too many positions")
	}
	s.positions -= n
	if f.numbers == 2 {
		s.copied(int(16 * n))
		return nil
	}
	for range n {
		s.copied(16)
		s.rest = s.rest[8*(f.numbers-2):]
	}
	return nil
}

// copied passes over bytes that are kept.
func (s *wkbScan) copied(n int) {
	s.flat, s.rest = append(s.flat, s.rest[:n]...), s.rest[n:]
}
