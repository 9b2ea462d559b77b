package geofile

import (
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// DecodeWKB reads a geometry of two dimensions in well-known binary (OGC 06-103r4,
// 8.2), of at most limits.Depth levels of nesting and limits.Vertices positions.
// Depth and lengths are looked at before anything is decoded: decoding descends
// without a bound, and a stack that overflows ends the program.
func DecodeWKB(data []byte, limits Limits) (orb.Geometry, error) {
	limits = limits.withDefaults()
	s := wkbScan{rest: data, depth: limits.Depth, positions: uint64(limits.Vertices)}
	if err := s.geometry(1); err != nil {
		return nil, err
	}
	return wkb.Unmarshal(data)
}

// wkbScan passes over well-known binary.
type wkbScan struct {
	rest      []byte
	depth     int
	positions uint64 // that may still come
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
	order := binary.ByteOrder(binary.BigEndian)
	if s.rest[0] == 1 {
		order = binary.LittleEndian
	}
	kind := order.Uint32(s.rest[1:])
	s.rest = s.rest[5:]
	switch kind {
	case 1: // point
		return s.skip(1)
	case 2: // line
		return s.line(order)
	case 3: // polygon
		return s.each(order, func() error { return s.line(order) })
	case 4, 5, 6, 7: // of points, lines, polygons, anything
		return s.each(order, func() error { return s.geometry(level + 1) })
	}
	return fmt.Errorf("%d is no type of geometry that is read", kind)
}

func (s *wkbScan) each(order binary.ByteOrder, one func() error) error {
	n, err := s.count(order)
	for ; n > 0 && err == nil; n-- {
		err = one()
	}
	return err
}

func (s *wkbScan) line(order binary.ByteOrder) error {
	n, err := s.count(order)
	if err != nil {
		return err
	}
	return s.skip(uint64(n))
}

func (s *wkbScan) count(order binary.ByteOrder) (uint32, error) {
	if len(s.rest) < 4 {
		return 0, errShortWKB
	}
	n := order.Uint32(s.rest)
	s.rest = s.rest[4:]
	return n, nil
}

// skip passes over positions.
func (s *wkbScan) skip(n uint64) error {
	if n > uint64(len(s.rest))/16 {
		return errShortWKB
	}
	if n > s.positions {
		return errors.New("too many positions")
	}
	s.positions -= n
	s.rest = s.rest[16*n:]
	return nil
}
