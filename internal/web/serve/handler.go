package serve

import (
	"errors"
	"net/http"

	"github.com/geocoris/geocoris/internal/web/call"
)

// handler shows the page and answers calls, each behind its guards.
func (s Site) handler(g guards) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/call", behind(http.HandlerFunc(s.call), g.calls...))
	mux.Handle("/", behind(http.HandlerFunc(s.page), g.page...))
	return mux
}

func (s Site) page(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path == "/" {
		http.ServeFileFS(w, r, s.Page, s.Entry)
		return
	}
	http.FileServerFS(s.Page).ServeHTTP(w, r)
}

func (s Site) call(w http.ResponseWriter, r *http.Request) {
	c, err := readCall(r.Body)
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		http.Error(w, "the files are too large together", http.StatusRequestEntityTooLarge)
		return
	case err != nil:
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	reply := s.Answer(r.Context(), c)
	w.Header().Set("Content-Type", frameType)
	if err := writeReply(w, reply); errors.Is(err, errNotSaid) {
		_ = writeReply(w, call.Failed(err)) // nothing was written yet
	}
}
