// Package call is the engine as a page calls it: one function, a request of settings and
// named bytes in, facts and named bytes out, all of it JSON and bytes. The page's module
// and a server answer with it alike.
//
// Settings are called as the flags of the command line are. Places are longitude and
// latitude, lengths metres, areas hectares. Sentences are those of the report: a page
// shows them as they are.
package call

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path"
	"reflect"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// A Call is what is asked.
type Call struct {
	Do       string          `json:"do"`
	Settings json.RawMessage `json:"settings"`
	Files    []Given         `json:"files"`
	Memory   *engine.Memory  `json:"-"` // keeps what calls have in common; nil keeps nothing
}

// Given is a file that comes in, by what it is for. Its bytes come beside the call.
type Given struct {
	Role    Role   `json:"role"`
	Name    string `json:"name"`
	Content []byte `json:"-"`
}

// NewMemory is a memory for calls that come one after the other.
func NewMemory() *engine.Memory { return engine.NewMemory() }

// A Role is what a file is for.
type Role string

// The roles of files.
const (
	Boundary  Role = "boundary"
	Counts    Role = "counts"
	Rules     Role = "rules"     // of one's own, in TOML
	Observers Role = "observers" // the file of calibrate
	Pairs     Role = "pairs"     // leaves of the drill, of which calibrate makes one
)

// A Reply is what comes of a call: facts, or what went wrong.
type Reply struct {
	Facts any    `json:"facts"`
	Files []Made `json:"files"`
	Error *Error `json:"error"`
}

// Made is a file that goes out. Its bytes go beside the reply.
type Made struct {
	Name    string `json:"name"`
	Type    string `json:"type"` // its media type
	Content []byte `json:"-"`
}

// An Error is what went wrong, and how to fix it, "" where that is not known; and the setting that
// answers it, where it is a question.
type Error struct {
	Message string `json:"message"`
	Hint    string `json:"hint"`
	Setting string `json:"setting,omitempty"`
}

// answers are what can be asked.
var answers = map[string]answerer{
	"fields": fields,
	"draw":   draw,
	"rules":  rules,
	"plan":   plan,
	"after":  after,
	"map":    mapped,
	"eyes":   eyes,
	"key":    aphid,
}

// Answer does what is asked. What goes wrong is in the reply, also where the engine
// itself is at fault.
func Answer(ctx context.Context, c Call) Reply { return answerBy(ctx, answers[c.Do], c) }

// An answerer does one thing that can be asked.
type answerer = func(context.Context, request) (any, []engine.File, error)

// answerBy is [Answer] by one answerer; nil where nothing is called so.
func answerBy(ctx context.Context, answer answerer, c Call) (reply Reply) {
	defer func() {
		if fault := recover(); fault != nil {
			reply = wrong(fmt.Errorf("the engine failed on this: %v", fault), "keep the files as they are and report it")
		}
	}()
	if answer == nil {
		return wrong(fmt.Errorf("nothing is called %q", c.Do), "")
	}
	facts, files, err := answer(ctx, request(c))
	if err != nil {
		return Failed(err)
	}
	reply = Reply{Facts: facts, Files: []Made{}}
	for _, f := range files {
		reply.Files = append(reply.Files, Made{f.Name, typeOf(f.Name), f.Content})
	}
	return reply
}

// Failed is the reply of what went wrong.
func Failed(err error) Reply {
	reply := wrong(err, hintOf(err))
	var hinted engine.HintedError
	if errors.As(err, &hinted) {
		reply.Error.Setting = hinted.Setting
	}
	return reply
}

func wrong(err error, hint string) Reply {
	return Reply{Files: []Made{}, Error: &Error{Message: err.Error(), Hint: hint}}
}

func hintOf(err error) string {
	if hint, ok := engine.FileHint(err); ok {
		return hint
	}
	var hinted engine.HintedError
	errors.As(err, &hinted)
	return cmp.Or(hinted.OnPage, hinted.Hint)
}

var types = map[string]string{
	".geojson": "application/geo+json",
	".json":    "application/json",
	".kml":     "application/vnd.google-earth.kml+xml",
	".kmz":     "application/vnd.google-earth.kmz",
	".gpx":     "application/gpx+xml",
	".csv":     "text/csv",
	".svg":     "image/svg+xml",
	".png":     "image/png",
	".pdf":     "application/pdf",
	".html":    "text/html",
	".zip":     "application/zip",
	".gpkg":    "application/geopackage+sqlite3",
}

func typeOf(name string) string {
	if t, ok := types[path.Ext(name)]; ok {
		return t
	}
	return "application/octet-stream"
}

// A request is a call that is being answered.
type request Call

// settings reads the settings into what holds those that are known, and its defaults.
func (r request) settings(into any) error {
	if len(bytes.TrimSpace(r.Settings)) == 0 {
		return nil
	}
	d := json.NewDecoder(bytes.NewReader(r.Settings))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) && wrong.Field != "" {
		return fmt.Errorf("settings of %s: %s: want %s, not a %s", r.Do, wrong.Field[strings.LastIndex(wrong.Field, ".")+1:], kindOf(wrong.Type), textFor(wrong.Value))
	}
	if err != nil {
		return fmt.Errorf("settings of %s: %w", r.Do, err)
	}
	if _, err := d.Token(); err != io.EOF {
		return fmt.Errorf("settings of %s: want one object", r.Do)
	}
	return nil
}

// all are the files of a role.
func (r request) all(role Role) (out []engine.Source) {
	for _, f := range r.Files {
		if f.Role == role {
			out = append(out, engine.Source{Name: f.Name, Content: f.Content})
		}
	}
	return out
}

// one is the one file of a role.
func (r request) one(role Role) (engine.Source, error) {
	all := r.all(role)
	if len(all) != 1 {
		return engine.Source{}, fmt.Errorf("%s: %d files of %s came along, want one", r.Do, len(all), role)
	}
	return all[0], nil
}

// setup is settings with the files that they name, which come along in roles called as the
// settings are.
func (r request) setup(o engine.Settings) (engine.Setup, error) {
	w := engine.Setup{Settings: o, Named: map[string]engine.Source{}, Memory: r.Memory, Incoming: true}
	for _, n := range w.Settings.NamedFiles() {
		from, err := r.atMostOne(Role(n.Setting))
		if err != nil {
			return w, err
		}
		if from != nil {
			*n.Path, w.Named[n.Setting] = from.Name, *from
		}
	}
	err := r.practised(&w)
	return w, err
}

// atMostOne is the file of a role, nil where none came along.
func (r request) atMostOne(role Role) (*engine.Source, error) {
	all := r.all(role)
	switch len(all) {
	case 0:
		return nil, nil
	case 1:
		return &all[0], nil
	}
	return nil, fmt.Errorf("%s: %d files of %s came along, want one at most", r.Do, len(all), role)
}

// kindOf says what a setting takes.
func kindOf(of reflect.Type) string {
	switch of.Kind() {
	case reflect.Bool:
		return "true or false"
	case reflect.String:
		return "a text"
	case reflect.Slice, reflect.Array:
		return "a list"
	}
	return "a number"
}

// textFor says a string of JSON as people call it.
func textFor(value string) string {
	if value == "string" {
		return "text"
	}
	return value
}
