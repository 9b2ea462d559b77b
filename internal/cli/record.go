package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
)

// record is run.json: how a result came to be. It holds no clock, so the same
// inputs and settings give the same bytes; what was filled in from each field's
// own area stands in summary.json.
type record struct {
	Program  string     `json:"program"`
	Version  string     `json:"version"`
	Command  string     `json:"command"`
	Inputs   []input    `json:"inputs"`
	Settings mapOptions `json:"settings"`
}

// input is a file as it was when it was read.
type input struct {
	Path   string `json:"path"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

func (m mapRun) record() (record, error) {
	r := record{Program: "geocoris", Version: version(), Command: "map", Settings: m.options}
	for _, path := range m.inputs() {
		in, err := digest(path)
		if err != nil {
			return record{}, err
		}
		r.Inputs = append(r.Inputs, in)
	}
	return r, nil
}

func digest(path string) (input, error) {
	f, err := os.Open(path)
	if err != nil {
		return input{}, err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, f)
	return input{Path: path, Bytes: n, SHA256: hex.EncodeToString(h.Sum(nil))}, err
}
