package geofile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// node is one JSON value with where it stands in the text. Arrays of numbers
// alone are kept flat, as most of a geometry is such.
type node struct {
	from, to int // offsets in the text
	// value is an object, an []node, a numbers, a json.Number, a string, a bool
	// or nil.
	value any
}

type numbers []float64

type member struct {
	key   string
	value node
}

// object keeps its members in the order of the text.
type object []member

func (o object) get(key string) (node, bool) {
	for _, m := range o {
		if m.key == key {
			return m.value, true
		}
	}
	return node{}, false
}

func (o object) has(keys ...string) bool {
	return slices.ContainsFunc(o, func(m member) bool { return slices.Contains(keys, m.key) })
}

// members says what an object holds, for messages.
func (o object) members() string {
	if len(o) == 0 {
		return "it holds nothing"
	}
	var names []string
	for i, m := range o {
		if i == 3 {
			names = append(names, fmt.Sprintf("%d more", len(o)-i))
			break
		}
		names = append(names, strconv.Quote(m.key[:min(len(m.key), 40)]))
	}
	return "it holds " + strings.Join(names, ", ")
}

func (o object) text(key string) string {
	n, _ := o.get(key)
	s, _ := n.value.(string)
	return s
}

// jsonReader reads a text that holds one JSON value.
type jsonReader struct {
	text   []byte
	tokens *json.Decoder
	limits Limits
	depth  int // levels that are open
	values int // read so far, but for numbers among numbers
}

func readJSON(text []byte, limits Limits) (node, error) {
	if len(bytes.TrimSpace(text)) == 0 {
		return node{}, &Error{Msg: "the file is empty", Hint: "save it anew as GeoJSON"}
	}
	r := jsonReader{text: text, tokens: json.NewDecoder(bytes.NewReader(text)), limits: limits}
	r.tokens.UseNumber()
	n, err := r.value()
	if err != nil {
		return node{}, r.located(err)
	}
	if _, err := r.tokens.Token(); !errors.Is(err, io.EOF) {
		return node{}, r.located(errors.New("there is more after the end"))
	}
	return n, nil
}

// breaksOff is what is said of half a file.
const breaksOff = "the file breaks off"

func (r *jsonReader) located(err error) error {
	if e := (*Error)(nil); errors.As(err, &e) {
		return e
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = errors.New(breaksOff)
	}
	return &Error{Line: lineAt(r.text, int(r.tokens.InputOffset())), Msg: err.Error(), Hint: "save it anew as GeoJSON"}
}

// maxValues bounds what the values of a text take of the machine's memory: some
// hundred bytes each where the text spends two. It lies above what is in files
// that the other limits let pass.
func (l Limits) maxValues() int { return 1000 + l.Vertices + 20*l.Features }

func (r *jsonReader) value() (node, error) {
	token, err := r.tokens.Token()
	if err != nil {
		return node{}, err
	}
	if _, is := token.(json.Number); !is {
		r.values++
	}
	if r.values > r.limits.maxValues() {
		return node{}, fmt.Errorf("more than %d values", r.limits.maxValues())
	}
	end := int(r.tokens.InputOffset())
	switch token {
	case json.Delim('{'):
		return r.nested(end-1, r.object)
	case json.Delim('['):
		return r.nested(end-1, r.array)
	}
	return node{from: end, to: end, value: token}, nil
}

func (r *jsonReader) nested(from int, read func() (any, error)) (node, error) {
	if r.depth++; r.depth > r.limits.Depth {
		return node{}, fmt.Errorf("nested too deep: more than %d levels", r.limits.Depth)
	}
	v, err := read()
	if err != nil {
		return node{}, err
	}
	r.depth--
	_, err = r.tokens.Token() // the closing bracket
	return node{from: from, to: int(r.tokens.InputOffset()), value: v}, err
}

func (r *jsonReader) object() (any, error) {
	o := object{}
	seen := map[string]bool{}
	for r.tokens.More() {
		token, err := r.tokens.Token()
		if err != nil {
			return nil, err
		}
		key, ok := token.(string)
		switch {
		case !ok:
			return nil, errors.New("a member without a name")
		case seen[key]:
			return nil, fmt.Errorf("the name %q stands twice in one object", key)
		}
		seen[key] = true
		v, err := r.value()
		if err != nil {
			return nil, err
		}
		o = append(o, member{key, v})
	}
	return o, nil
}

func (r *jsonReader) array() (any, error) {
	var flat numbers
	items := []node{}
	for r.tokens.More() {
		v, err := r.value()
		if err != nil {
			return nil, err
		}
		n, isNumber := v.value.(json.Number)
		if isNumber && len(items) == 0 {
			f, err := n.Float64()
			if err != nil {
				return nil, fmt.Errorf("%s is beyond the range of numbers", n)
			}
			flat = append(flat, f)
			continue
		}
		r.values += len(flat)
		if isNumber {
			r.values++
		}
		for _, f := range flat { // not numbers alone after all
			items = append(items, node{from: v.from, to: v.from, value: f})
		}
		flat, items = nil, append(items, v)
	}
	if len(flat) > 0 {
		return flat, nil
	}
	return items, nil
}
