//go:build !js && !nosqlite

package season

import "database/sql"

// Numbers in a merged season come of what it holds, never of the order in which it came:
// visits by their days and digests, fields by their names, rows of a visit as they stood.

// number numbers everything anew where it is not yet so, and where numbers may change.
func (g *merging) number() error {
	if !g.ordered() {
		return nil
	}
	if _, err := g.tx.Exec(`PRAGMA defer_foreign_keys = ON`); err != nil { // until the transaction ends
		return err
	}
	var ofVisits, ofFields []reference
	for _, part := range parts {
		ofVisits = append(ofVisits, reference{part, "visit_id"})
	}
	ofFields = append(ofFields, reference{"visit_fields", "field_id"})
	moved, err := g.renumber("visits", "date, digest", ofVisits)
	if err != nil {
		return err
	}
	g.Renumbered = moved
	if _, err := g.renumber("fields", "name", ofFields); err != nil {
		return err
	}
	for _, part := range parts {
		if _, err := g.renumber(part, "visit_id, id", nil); err != nil {
			return err
		}
	}
	return nil
}

// A reference is a column that holds numbers of another table.
type reference struct{ table, column string }

// renumber numbers the rows of a table from 1 by an order, and what refers to them.
func (g *merging) renumber(table, order string, by []reference) ([]Renumbered, error) {
	moved, err := misnumbered(g.tx, table, order)
	if err != nil || len(moved) == 0 {
		return nil, err
	}
	g.changed, g.moved = true, true
	by = append([]reference{{table, "id"}}, by...)
	for _, r := range by { // by way of numbers below 0, which no row has
		statement, err := g.tx.Prepare(`UPDATE ` + r.table + ` SET ` + r.column + ` = -$1 WHERE ` + r.column + ` = $2`)
		if err != nil {
			return nil, err
		}
		defer statement.Close()
		for _, m := range moved {
			if _, err := statement.Exec(m.To, m.From); err != nil {
				return nil, err
			}
		}
		if _, err := g.tx.Exec(`UPDATE ` + r.table + ` SET ` + r.column + ` = -` + r.column + ` WHERE ` + r.column + ` < 0`); err != nil {
			return nil, err
		}
	}
	return moved, nil
}

func misnumbered(tx *sql.Tx, table, order string) (moved []Renumbered, err error) {
	rows, err := tx.Query(`SELECT id, row_number() OVER (ORDER BY ` + order + `) FROM ` + table + ` ORDER BY 2`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var m Renumbered
		if err := rows.Scan(&m.From, &m.To); err != nil {
			return nil, err
		}
		if m.From != m.To {
			moved = append(moved, m)
		}
	}
	return moved, rows.Err()
}
