// Package recall keeps what was worked out, for whoever asks for it again: a scout who
// tries another threshold asks for much the same map. What comes of it is the same to the
// byte as without it, as a result is found by all that it depends on.
package recall

import (
	"encoding/binary"
	"math"
	"sync"
)

// A Memory holds the last few results of each kind. Any number of goroutines may share it;
// nil remembers nothing. What it holds is nobody's to change.
type Memory struct {
	mu   sync.Mutex
	most int
	kept map[string][]entry // by kind, the one asked for last at the end
}

type entry struct {
	key    string
	result any
}

// New is a memory for so many results of each kind, 1 or more.
func New(most int) *Memory {
	return &Memory{most: max(1, most), kept: map[string][]entry{}}
}

// A Key is all that a result of some kind depends on.
type Key struct {
	kind string
	text []byte
}

// For begins the key of a kind of result.
func For(kind string) *Key { return &Key{kind: kind} }

// Text adds texts, each after its length, so that no two run into each other.
func (k *Key) Text(texts ...string) *Key {
	for _, t := range texts {
		k.Count(len(t))
		k.text = append(k.text, t...)
	}
	return k
}

// Bytes adds the content of a file, likewise.
func (k *Key) Bytes(b []byte) *Key {
	k.Count(len(b))
	k.text = append(k.text, b...)
	return k
}

// Numbers adds numbers to the bit; a list of them comes after its [Key.Count].
func (k *Key) Numbers(v ...float64) *Key {
	for _, x := range v {
		k.text = binary.LittleEndian.AppendUint64(k.text, math.Float64bits(x))
	}
	return k
}

// Count adds how many there are of what comes next.
func (k *Key) Count(n int) *Key {
	k.text = binary.AppendUvarint(k.text, uint64(n))
	return k
}

// Truths adds answers.
func (k *Key) Truths(all ...bool) *Key {
	for _, v := range all {
		n := 0
		if v {
			n = 1
		}
		k.Count(n)
	}
	return k
}

// Of is the result that a memory holds by a key, or what work makes. Errors are not kept.
func Of[T any](m *Memory, k *Key, work func() (T, error)) (T, error) {
	if m == nil {
		return work()
	}
	if known, ok := m.find(k); ok {
		return known.(T), nil
	}
	made, err := work()
	if err == nil {
		m.keep(k, made)
	}
	return made, err
}

func (m *Memory) find(k *Key) (result any, ok bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	all := m.kept[k.kind]
	for i, e := range all {
		if e.key == string(k.text) {
			copy(all[i:], all[i+1:])
			all[len(all)-1] = e
			return e.result, true
		}
	}
	return nil, false
}

// keep forgets what was not asked for the longest.
func (m *Memory) keep(k *Key, result any) {
	m.mu.Lock()
	defer m.mu.Unlock()
	all := append(m.kept[k.kind], entry{string(k.text), result})
	if len(all) > m.most {
		all = append([]entry(nil), all[1:]...)
	}
	m.kept[k.kind] = all
}
