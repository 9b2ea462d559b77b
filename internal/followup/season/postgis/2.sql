-- Whose fields a role sees, and that what was added stays as it is. The owner of the
-- season sees all of it and is bound by none of this.

-- Which role, or group of roles, sees which grower. NULL: all of them. '': fields that
-- name no grower. Who stands in no row sees no fields.
CREATE TABLE access (
  id BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  role TEXT NOT NULL,
  grower TEXT,
  UNIQUE NULLS NOT DISTINCT (role, grower)
);
-- At first both roles see all growers.
INSERT INTO access (role, grower) VALUES ('geocoris_scout', NULL), ('geocoris_office', NULL);

-- A field is of the grower that its first visit names, else of its customer.
ALTER TABLE fields ADD COLUMN grower TEXT;
ALTER TABLE visits ADD COLUMN growers TEXT[] NOT NULL DEFAULT '{}';
CREATE FUNCTION grower_of(grower TEXT, customer TEXT) RETURNS TEXT LANGUAGE sql IMMUTABLE
  AS $$ SELECT coalesce(nullif(grower, ''), customer) $$;
UPDATE fields SET grower = (SELECT geocoris.grower_of(v.grower, v.customer) FROM visit_fields v WHERE v.field_id = fields.id ORDER BY v.id LIMIT 1);
UPDATE visits SET growers = coalesce((SELECT array_agg(DISTINCT f.grower) FROM visit_fields v JOIN fields f ON f.id = v.field_id WHERE v.visit_id = visits.id), '{}');

CREATE FUNCTION note_grower() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path = geocoris, pg_temp AS $$
BEGIN
  UPDATE fields SET grower = grower_of(NEW.grower, NEW.customer) WHERE id = NEW.field_id AND grower IS NULL;
  UPDATE visits SET growers = visits.growers || f.grower FROM fields f
    WHERE f.id = NEW.field_id AND visits.id = NEW.visit_id AND f.grower <> ALL (visits.growers);
  RETURN NULL;
END $$;
CREATE TRIGGER note_grower AFTER INSERT ON visit_fields FOR EACH ROW EXECUTE FUNCTION note_grower();

-- The owner gives a field to another grower by UPDATE geocoris.fields SET grower = ...
CREATE FUNCTION move_grower() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path = geocoris, pg_temp AS $$
BEGIN
  UPDATE visits SET growers = (SELECT array_agg(DISTINCT f.grower) FROM visit_fields v JOIN fields f ON f.id = v.field_id WHERE v.visit_id = visits.id)
    WHERE id IN (SELECT visit_id FROM visit_fields WHERE field_id = NEW.id);
  RETURN NULL;
END $$;
CREATE TRIGGER move_grower AFTER UPDATE OF grower ON fields FOR EACH ROW WHEN (OLD.grower IS NOT NULL) EXECUTE FUNCTION move_grower();
-- On a table of somebody else's they would do as the owner what that one wants.
REVOKE ALL ON FUNCTION note_grower(), move_grower() FROM PUBLIC;

CREATE FUNCTION sees_all() RETURNS BOOLEAN LANGUAGE sql STABLE SECURITY DEFINER SET search_path = geocoris, pg_temp AS $$
  SELECT EXISTS (SELECT FROM access a JOIN pg_roles r ON r.rolname = a.role WHERE a.grower IS NULL AND pg_has_role(session_user, r.oid, 'MEMBER'))
$$;
CREATE FUNCTION growers_seen() RETURNS TEXT[] LANGUAGE sql STABLE SECURITY DEFINER SET search_path = geocoris, pg_temp AS $$
  SELECT coalesce(array_agg(a.grower) FILTER (WHERE a.grower IS NOT NULL), '{}') FROM access a JOIN pg_roles r ON r.rolname = a.role WHERE pg_has_role(session_user, r.oid, 'MEMBER')
$$;

ALTER TABLE fields ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON fields FOR SELECT USING ((SELECT sees_all()) OR grower IS NULL OR grower = ANY ((SELECT growers_seen())::text[]));
CREATE POLICY added ON fields FOR INSERT WITH CHECK (grower IS NULL);

-- A visit is seen by who sees all of its fields, as its files tell of all of them.
ALTER TABLE visits ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON visits FOR SELECT USING ((SELECT sees_all()) OR growers <@ (SELECT growers_seen()));
CREATE POLICY added ON visits FOR INSERT WITH CHECK (added_by = session_user AND growers = '{}');

ALTER TABLE visit_fields ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON visit_fields FOR SELECT USING (EXISTS (SELECT FROM visits v WHERE v.id = visit_id));
CREATE POLICY added ON visit_fields FOR INSERT WITH CHECK (
  ((SELECT sees_all()) OR grower_of(grower, customer) = ANY ((SELECT growers_seen())::text[]))
  AND EXISTS (SELECT FROM fields f WHERE f.id = field_id)
  AND EXISTS (SELECT FROM visits v WHERE v.id = visit_id AND v.xmin = pg_current_xact_id()::xid));

-- What is of a visit comes with it, in the same transaction, and nothing afterwards.
DO $$
DECLARE part TEXT;
BEGIN
  FOREACH part IN ARRAY ARRAY['files', 'settings_files', 'stops', 'zones', 'verdicts'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', part);
    EXECUTE format('CREATE POLICY seen ON %I FOR SELECT USING (EXISTS (SELECT FROM visits v WHERE v.id = visit_id))', part);
    EXECUTE format('CREATE POLICY added ON %I FOR INSERT WITH CHECK (EXISTS (SELECT FROM visits v WHERE v.id = visit_id AND v.xmin = pg_current_xact_id()::xid))', part);
  END LOOP;
END $$;

ALTER TABLE superseded ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON superseded FOR SELECT USING (EXISTS (SELECT FROM visits v WHERE v.id = visit_id));
-- Who added a visit replaces it. Others replace what nobody signed, and the same counts by
-- those that bear one more author, each with a visit of the same transaction.
CREATE POLICY added ON superseded FOR INSERT WITH CHECK (EXISTS (
  SELECT FROM visits o, visits n WHERE o.id = visit_id AND n.id = by_visit_id AND (o.added_by = session_user
    OR n.xmin = pg_current_xact_id()::xid
      AND (o.author = '' OR o.digest = n.digest AND string_to_array(o.author, '; ') <@ string_to_array(n.author, '; ')))));

-- Treatments name no field: they are seen where they lie on one that is, not beside it.
ALTER TABLE records ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON records FOR SELECT USING ((SELECT sees_all()) OR EXISTS (SELECT FROM fields f WHERE f.geom && records.geom AND ST_Intersects(f.geom, records.geom) AND NOT ST_Touches(f.geom, records.geom)));
CREATE POLICY added ON records FOR INSERT WITH CHECK (true);
