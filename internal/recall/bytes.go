//go:build !small

package recall

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
)

// Pack writes what was worked out as bytes, so that it outlives the program. [Unpack] gives
// the same to the bit: numbers that are none, and lists that are nil or only empty. It takes
// plain data, of structs their exported fields; a function, a channel, a map or an interface
// in it is an error.
func Pack(v any) ([]byte, error) { return pack(nil, reflect.ValueOf(v)) }

func pack(b []byte, v reflect.Value) ([]byte, error) {
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1), nil
		}
		return append(b, 0), nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.AppendVarint(b, v.Int()), nil
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return binary.AppendUvarint(b, v.Uint()), nil
	case reflect.Float32, reflect.Float64:
		return binary.LittleEndian.AppendUint64(b, math.Float64bits(v.Float())), nil
	case reflect.String:
		return append(binary.AppendUvarint(b, uint64(v.Len())), v.String()...), nil
	case reflect.Slice:
		if v.IsNil() {
			return append(b, 0), nil
		}
		return packEach(binary.AppendUvarint(b, uint64(v.Len())+1), v)
	case reflect.Array:
		return packEach(b, v)
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0), nil
		}
		return pack(append(b, 1), v.Elem())
	case reflect.Struct:
		return packFields(b, v)
	}
	return nil, fmt.Errorf("recall: %s cannot be kept", v.Type())
}

func packEach(b []byte, v reflect.Value) (_ []byte, err error) {
	for i := range v.Len() {
		if b, err = pack(b, v.Index(i)); err != nil {
			return nil, err
		}
	}
	return b, nil
}

func packFields(b []byte, v reflect.Value) (_ []byte, err error) {
	for i := range v.NumField() {
		if !v.Type().Field(i).IsExported() {
			continue
		}
		if b, err = pack(b, v.Field(i)); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// Unpack reads what [Pack] wrote of a value of the same type. Other bytes are an error.
func Unpack(b []byte, to any) error {
	u := unpacker{rest: b}
	u.value(reflect.ValueOf(to).Elem())
	if u.broken || len(u.rest) > 0 {
		return errors.New("recall: these bytes are of something else")
	}
	return nil
}

// unpacker reads values off bytes; broken is set where they do not fit.
type unpacker struct {
	rest   []byte
	broken bool
}

func (u *unpacker) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(u.count(1) == 1)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(u.signed())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(u.unsigned())
	case reflect.Float32, reflect.Float64:
		if b := u.bytes(8); b != nil {
			v.SetFloat(math.Float64frombits(binary.LittleEndian.Uint64(b)))
		}
	case reflect.String:
		v.SetString(string(u.bytes(u.count(len(u.rest)))))
	case reflect.Slice:
		u.slice(v)
	case reflect.Array:
		for i := range v.Len() {
			u.value(v.Index(i))
		}
	case reflect.Pointer:
		if u.count(1) == 1 {
			v.Set(reflect.New(v.Type().Elem()))
			u.value(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && !u.broken {
				u.value(v.Field(i))
			}
		}
	default:
		u.broken = true
	}
}

// slice reads a list: each of its values takes a byte at least.
func (u *unpacker) slice(v reflect.Value) {
	n := u.count(len(u.rest) + 1)
	if n == 0 || u.broken {
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
	for i := 0; i < n-1 && !u.broken; i++ {
		u.value(v.Index(i))
	}
}

func (u *unpacker) unsigned() uint64 {
	n, size := binary.Uvarint(u.rest)
	if size <= 0 {
		u.broken, u.rest = true, nil
		return 0
	}
	u.rest = u.rest[size:]
	return n
}

func (u *unpacker) signed() int64 {
	n, size := binary.Varint(u.rest)
	if size <= 0 {
		u.broken, u.rest = true, nil
		return 0
	}
	u.rest = u.rest[size:]
	return n
}

// count is a number from 0 to most.
func (u *unpacker) count(most int) int {
	n := u.unsigned()
	if n > uint64(most) {
		u.broken, u.rest = true, nil
		return 0
	}
	return int(n)
}

func (u *unpacker) bytes(n int) []byte {
	if u.broken || n > len(u.rest) {
		u.broken, u.rest = true, nil
		return nil
	}
	b := u.rest[:n]
	u.rest = u.rest[n:]
	return b
}
