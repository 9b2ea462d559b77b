package features

import (
	"encoding/json"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// Media types of answers.
const (
	jsonType    = "application/json"
	geoType     = "application/geo+json"
	openAPIType = "application/vnd.oai.openapi+json;version=3.0"
)

// A fault is an answer that is an error.
type fault struct {
	status     int
	code, says string
}

func (f fault) Error() string { return f.says }

func invalid(says string) error { return fault{http.StatusBadRequest, "InvalidParameterValue", says} }

func notFound(says string) error { return fault{http.StatusNotFound, "NotFound", says} }

// An answer is content of one of several types, the first of which is its own.
type answer struct {
	types   []string
	content []byte
}

// Handler answers for a season; name is what it is called.
func Handler(name string, season engine.SeasonShower) http.Handler {
	return handler{name, season}
}

type handler struct {
	name   string
	season engine.SeasonShower
}

func (h handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		refuse(w, fault{http.StatusMethodNotAllowed, "MethodNotAllowed", "the season is only read here: GET or HEAD"})
		return
	}
	a, err := h.answer(r)
	if err == nil {
		var kind string
		if kind, err = chosen(r.Header.Values("Accept"), a.types); err == nil {
			w.Header().Set("Content-Type", kind)
			w.Header().Set("Vary", "Accept")
			_, _ = w.Write(a.content) // whoever hung up does not read on
			return
		}
	}
	refuse(w, err)
}

func refuse(w http.ResponseWriter, err error) {
	f := fault{http.StatusInternalServerError, "ServerError", err.Error()}
	errors.As(err, &f)
	content, _ := json.Marshal(map[string]string{"code": f.code, "description": f.says}) // texts always are JSON
	w.Header().Set("Content-Type", jsonType)
	w.WriteHeader(f.status)
	_, _ = w.Write(append(content, '\n'))
}

// answer finds what is asked for by the path.
func (h handler) answer(r *http.Request) (answer, error) {
	query, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return answer{}, invalid("the parameters cannot be read")
	}
	at := site{base: "http://" + r.Host, name: h.name}
	path := strings.Split(strings.Trim(r.URL.Path, "/"), "/")
	if len(path) == 4 && path[0] == "collections" && path[2] == "items" {
		if err := only(query); err != nil {
			return answer{}, err
		}
		return h.item(at, path[1], path[3])
	}
	if len(path) == 3 && path[0] == "collections" && path[2] == "items" {
		return h.items(at, path[1], query)
	}
	if err := only(query); err != nil {
		return answer{}, err
	}
	switch {
	case len(path) == 1 && path[0] == "":
		return document(at.landing())
	case len(path) == 1 && path[0] == "conformance":
		return document(conformance{classes})
	case len(path) == 1 && path[0] == "api":
		a, err := document(at.definition())
		a.types = []string{openAPIType, jsonType}
		return a, err
	case len(path) == 1 && path[0] == "collections":
		return h.collections(at)
	case len(path) == 2 && path[0] == "collections":
		c, err := h.collection(at, path[1])
		if err != nil {
			return answer{}, err
		}
		return document(c)
	}
	return answer{}, notFound("there is nothing at " + r.URL.Path)
}

func document(v any) (answer, error) {
	content, err := json.Marshal(v)
	return answer{[]string{jsonType}, append(content, '\n')}, err
}

// only is an error where a parameter is not known, or stands twice.
func only(query url.Values, known ...string) error {
	for name, values := range query {
		if !slices.Contains(known, name) {
			return fault{http.StatusBadRequest, "InvalidParameter", "the parameter " + strconv.Quote(name) + " is not known here"}
		}
		if len(values) > 1 {
			return invalid("the parameter " + strconv.Quote(name) + " stands twice")
		}
	}
	return nil
}

// chosen is the first of the types of an answer that a request takes; one that says nothing
// takes the first (RFC 9110, 12.5.1).
func chosen(accept, types []string) (string, error) {
	ranges := strings.Split(strings.Join(accept, ","), ",")
	if strings.TrimSpace(strings.Join(ranges, "")) == "" {
		return types[0], nil
	}
	for _, kind := range types {
		if slices.ContainsFunc(ranges, func(r string) bool { return takes(r, kind) }) {
			return kind, nil
		}
	}
	return "", fault{http.StatusNotAcceptable, "NotAcceptable", "the answer is " + strings.Join(types, " or ") + ", which the request does not take"}
}

// takes reports that a media range takes a type; parameters but for q are not looked at.
func takes(mediaRange, kind string) bool {
	wanted, parameters, _ := strings.Cut(mediaRange, ";")
	for p := range strings.SplitSeq(parameters, ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(p), "=")
		if q, err := strconv.ParseFloat(value, 64); strings.EqualFold(name, "q") && err == nil && q == 0 {
			return false
		}
	}
	kind, _, _ = strings.Cut(kind, ";")
	wanted = strings.ToLower(strings.TrimSpace(wanted))
	whole, _, _ := strings.Cut(kind, "/")
	return wanted == "*/*" || wanted == whole+"/*" || wanted == kind
}
