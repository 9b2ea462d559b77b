package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/survey"
)

// record is run.json: how a result came to be, with defaults filled in. It holds
// no clock, so the same inputs and settings give the same bytes.
type record struct {
	Program  string                 `json:"program"`
	Version  string                 `json:"version"`
	Command  string                 `json:"command"`
	Inputs   []input                `json:"inputs"`
	Settings mapOptions             `json:"settings"`
	Fields   []report.FieldSettings `json:"fields"` // what was left to each field
}

// input is a file as it was when it was read.
type input struct {
	Path   string `json:"path"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

func (m *mapRun) record(result *assess.Result) (record, error) {
	r := record{Program: "geocoris", Version: version(), Command: "map", Settings: m.options, Fields: report.SettingsOf(result)}
	r.Settings.TreatAt, r.Settings.WatchAt = result.Levels.TreatAt, result.Levels.WatchAt
	for _, path := range m.inputs() {
		if path == survey.Stdin {
			r.Inputs = append(r.Inputs, digestOf(path, m.stdin))
			continue
		}
		in, err := digest(path)
		if err != nil {
			return record{}, err
		}
		r.Inputs = append(r.Inputs, in)
	}
	return r, nil
}

func digestOf(path string, content []byte) input {
	sum := sha256.Sum256(content)
	return input{Path: path, Bytes: int64(len(content)), SHA256: hex.EncodeToString(sum[:])}
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
