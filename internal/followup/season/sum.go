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

// sum is the digest of what digest leaves out, as visits that differ in it alone are one.
// One of no known author has the digest that formats before 5 gave it.
func (v Visit) sum() string {
	if v.Author == "" {
		return sumOf(v.Date, v.Pest, v.Unit)
	}
	return sumOf(v.Date, v.Pest, v.Unit, v.Author)
}

// fieldSum is the digest of a field at a visit, with its boundary as it is stored.
func fieldSum(f geo.Field, rows, grower string, boundary []byte) string {
	return sumOf(f.Name, f.Customer, f.Farm, rows, grower, string(boundary))
}

// sum is the digest of a treatment, with its ground as it is stored.
func (r Record) sum(ground []byte) string {
	return sumOf(r.Date, r.Note, fmt.Sprint(r.ReentryHours), string(ground))
}
