//go:build !js && !nosqlite

package season

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"hash"
	"slices"
)

// digest tells whether a visit is the same: names and bytes of its files, the settings, the
// bytes of the files that those name, and which fields it has, in whatever order. The same
// sheet of two growers' fields is two visits. Lengths stand before, so that no two lists
// look alike; no setting has a name that begins with 0.
func digest(v Visit) string {
	h := sha256.New()
	writeCounts(h, v)
	var names []string
	for _, f := range v.Fields {
		names = append(names, f.Name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(h, "\x00%d:%s", len(name), name)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// digestBefore6 is that of formats before 6, which is the same whatever the fields.
func digestBefore6(v Visit) string {
	h := sha256.New()
	writeCounts(h, v)
	return hex.EncodeToString(h.Sum(nil))
}

func writeCounts(h hash.Hash, v Visit) {
	fmt.Fprintf(h, "%d:%s", len(v.Settings), v.Settings)
	for _, f := range v.Files {
		fmt.Fprintf(h, "%d:%s%d:", len(f.Name), f.Name, len(f.Content))
		h.Write(f.Content)
	}
	for _, f := range v.SettingsFiles {
		fmt.Fprintf(h, "%s:%d:%s%d:", f.Setting, len(f.Name), f.Name, len(f.Content))
		h.Write(f.Content)
	}
}

// digestOf is the digest of a visit as this format stores it.
func (s *Season) digestOf(v Visit) string {
	if s.format < 6 {
		return digestBefore6(v)
	}
	return digest(v)
}

// redigest gives the visits of format 5 their digests of this one. What is not what was
// stored keeps the one it has, which goes on saying so.
func (s *Season) redigest(tx *sql.Tx) error {
	old := &Season{q: tx, name: s.name, format: 5, store: s.store}
	ids, err := old.ids(`SELECT id FROM visits ORDER BY id`)
	if err != nil {
		return err
	}
	for _, id := range ids {
		v, err := old.Visit(id)
		if err != nil {
			continue
		}
		if _, err := tx.Exec(`UPDATE visits SET digest = $1 WHERE id = $2`, digest(v), id); err != nil {
			return err
		}
	}
	return nil
}
