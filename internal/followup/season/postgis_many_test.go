//go:build !js && !nosqlite

package season_test

import (
	"bufio"
	"math/rand/v2"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// Eight writers add 400 visits at once, while one of them is killed at random moments and
// begins anew: what was reported as stored is there, nothing is there twice or by half.
func TestEightWritersOfADatabase(t *testing.T) {
	if testing.Short() {
		t.Skip("eight processes add 400 visits")
	}
	g := inDatabase(t)
	require.NoError(t, opened(t, g.owner()).Close())
	const writers, each = 8, 50
	var cmds [writers]*exec.Cmd
	var lines [writers]*bufio.Scanner
	var errs [writers]*strings.Builder
	stored := map[int]int64{}
	for i := 1; i < writers; i++ {
		cmds[i], lines[i], errs[i] = adding(t, g.owner(), i*each, each)
	}
	rng := rand.New(rand.NewPCG(8, 400))
	kills := 0
	for range 6 { // it adds what it added before, too, which is known
		cmd, said, _ := adding(t, g.owner(), 0, each)
		timer := time.AfterFunc(time.Duration(30+rng.IntN(300))*time.Millisecond, func() { _ = cmd.Process.Kill() })
		reported(t, said, stored)
		if cmd.Wait() != nil {
			kills++
		}
		timer.Stop()
	}
	cmds[0], lines[0], errs[0] = adding(t, g.owner(), 0, each)
	for i := range cmds {
		reported(t, lines[i], stored)
		require.NoError(t, cmds[i].Wait(), errs[i].String())
	}
	s, err := season.Open(g.owner())
	require.NoError(t, err)
	defer s.Close()
	all, err := s.List()
	require.NoError(t, err)
	assert.Len(t, all, writers*each)
	assert.Len(t, stored, writers*each)
	seen := map[int64]bool{}
	for n, id := range stored {
		assert.False(t, seen[id], "visit %d twice", id)
		seen[id] = true
		v, err := s.Visit(id)
		require.NoError(t, err)
		assert.Equal(t, visit(n).Files, v.Files)
		assert.Equal(t, visit(n).Fields, v.Fields)
		assert.Equal(t, visit(n).SettingsFiles, v.SettingsFiles)
	}
	for table, rows := range map[string]int{"files": 400, "settings_files": 400, "visit_fields": 400, "stops": 400, "zones": 400, "fields": 1} {
		assert.Equal(t, strconv.Itoa(rows), g.sql(t, "SELECT count(*) FROM geocoris."+table), table)
	}
	t.Logf("400 visits by 8 writers, one of them killed %d times: none lost, none twice", kills)
	assert.Positive(t, kills)
}

// manyVisits are a season of 250 invented fields and 40 weeks, a visit to each, 10 stops
// and two zones in each, put there by SQL.
const manyVisits = `
SET search_path = geocoris, public;
SET session_replication_role = replica; -- no triggers: what they note is put in at once
INSERT INTO fields (geom, name, grower) SELECT ST_Multi(ST_MakeEnvelope(f * 0.01, 35, f * 0.01 + 0.008, 35.006, 4326)), 'Field ' || f, 'Grower ' || f % 20 FROM generate_series(1, 250) f;
INSERT INTO visits (id, date, pest, unit, settings, digest, growers) SELECT n, (date '2031-03-01' + 7 * ((n - 1) / 250))::text, 'sorghum aphid', 'mean per leaf', '{}', md5(n::text), ARRAY['Grower ' || (1 + (n - 1) % 250) % 20] FROM generate_series(1, 10000) n;
INSERT INTO visit_fields (visit_id, field_id, grower) SELECT n, f.id, f.grower FROM generate_series(1, 10000) n JOIN fields f ON f.name = 'Field ' || 1 + (n - 1) % 250;
INSERT INTO files (visit_id, name, sha256, content) SELECT n, 'week' || n || '.csv', encode(sha256(convert_to(repeat('x', 3000) || n, 'UTF8')), 'hex'), convert_to(repeat('x', 3000) || n, 'UTF8') FROM generate_series(1, 10000) n;
INSERT INTO stops (geom, visit_id, stop, field, date, value) SELECT ST_SetSRID(ST_MakePoint(0.01 * (1 + (n - 1) % 250) + 0.0004 * s, 35.003), 4326), n, s::text, 'Field ' || 1 + (n - 1) % 250, (date '2031-03-01' + 7 * ((n - 1) / 250))::text, s FROM generate_series(1, 10000) n, generate_series(1, 10) s;
INSERT INTO zones (geom, visit_id, zone, field, area_ha) SELECT f.geom, v.visit_id, z, f.name, 12.5 FROM visit_fields v JOIN fields f ON f.id = v.field_id, unnest(ARRAY['treat', 'clear']) z;
ANALYZE;`

// How soon a season of 10,000 visits is listed, and the weeks of one field are there, for
// an owner and for a scout who sees one grower in twenty. The times are of the machine, so
// that they are told and not held; that all of it comes of few queries is.
func TestASeasonOfTenThousandVisits(t *testing.T) {
	if testing.Short() {
		t.Skip("10,000 visits are made")
	}
	g := inDatabase(t)
	require.NoError(t, opened(t, g.owner()).Close())
	g.sql(t, manyVisits)
	scout, login := g.person(t, "scout", "geocoris_scout")
	g.sql(t, `DELETE FROM geocoris.access WHERE role = 'geocoris_scout'; INSERT INTO geocoris.access (role, grower) VALUES ('`+login+`', 'Grower 7')`)
	for _, who := range []struct {
		name, address string
		visits        int
	}{{"owner", g.owner(), 10000}, {"scout", scout, 520}} {
		s, err := season.Open(who.address)
		require.NoError(t, err)
		begun := time.Now()
		lines, err := s.List()
		require.NoError(t, err)
		list := time.Since(begun)
		require.Len(t, lines, who.visits)
		assert.Equal(t, 10, lines[0].Stops)
		begun = time.Now()
		ids, err := s.VisitsTo("Field 7")
		require.NoError(t, err)
		require.Len(t, ids, 40)
		for _, id := range ids {
			zones, err := s.Zones(id)
			require.NoError(t, err)
			assert.Len(t, zones, 2)
			stops, err := s.StopsOf(id)
			require.NoError(t, err)
			assert.Equal(t, map[string]int{"Field 7": 10}, stops)
		}
		took := time.Since(begun)
		t.Logf("%s: list of %d visits %v, 40 weeks of a field %v", who.name, who.visits, list, took)
		showsMany(t, s, who.name, who.visits)
		require.NoError(t, s.Close())
	}
}

// showsMany asks as a map program does: where the stops are, for their first page, and for
// those of one field, which is one that the scout sees.
func showsMany(t *testing.T, s *season.Season, who string, visits int) {
	t.Helper()
	begun := time.Now()
	extent, err := s.Extent("stops")
	require.NoError(t, err)
	whole := time.Since(begun)
	west := map[string]float64{"owner": 0.0104, "scout": 0.0704}[who]
	assert.InDelta(t, west, extent.Box[0], 1e-9)
	assert.Equal(t, "2031-03-01", extent.First)
	begun = time.Now()
	page, err := s.Page("stops", season.Window{Limit: 100})
	require.NoError(t, err)
	first := time.Since(begun)
	assert.Equal(t, 10*visits, page.Matched)
	assert.Len(t, page.Features, 100)
	begun = time.Now()
	page, err = s.Page("stops", season.Window{Boxes: [][4]float64{{0.07, 35, 0.078, 35.006}}, Limit: 100})
	require.NoError(t, err)
	t.Logf("%s: extent of %d stops %v, 100 of them %v, 100 of one field's %v", who, 10*visits, whole, first, time.Since(begun))
	assert.Equal(t, 400, page.Matched)
	assert.True(t, page.More)
}
