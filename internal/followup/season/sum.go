//go:build !js && !nosqlite

package season

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/geocoris/geocoris/geo"
)

// What SQLite takes for whole may have other bytes than were stored. Rows carry digests of
// what decisions hang on; stops and zones do not, as they are worked out from the rest.

// sumOf is the digest of texts, which no others have, however they are parted.
func sumOf(texts ...string) string {
	h := sha256.New()
	for _, text := range texts {
		fmt.Fprintf(h, "%d:%s", len(text), text)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// sum is the digest of what digest leaves out, as visits that differ in it alone are one:
// which fields it has, too, as a field that is not found has no row that could tell.
func (v Visit) sum() string {
	texts := []string{v.Date, v.Pest, v.Unit, v.Author}
	for _, f := range v.Fields {
		texts = append(texts, f.Name)
	}
	return sumOf(texts...)
}

// has reports whether a visit has a digest of sum. That of a visit of an earlier format knew
// neither author nor fields.
func (v Visit) has(sum string) bool {
	return sum == v.sum() || v.Author == "" && sum == sumOf(v.Date, v.Pest, v.Unit)
}

// fieldSum is the digest of a field at a visit, with its boundary as it is stored.
func fieldSum(f geo.Field, rows, grower string, boundary []byte) string {
	return sumOf(f.Name, f.Customer, f.Farm, rows, grower, string(boundary))
}

// sum is the digest of a treatment, with its ground as it is stored.
func (r Record) sum(ground []byte) string {
	return sumOf(r.Date, r.Note, fmt.Sprint(r.ReentryHours), string(ground))
}

// same is the digest of a treatment whatever its ground was drawn from: where a ring begins
// and which way it runs, and the order of holes and polygons, change nothing.
func (r Record) same() (string, error) {
	ground, err := blob(drawnOnce(r.Ground))
	return r.sum(ground), err
}
