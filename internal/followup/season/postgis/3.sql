-- What was replaced is known to those that merge: layer of format 6.
ALTER TABLE corrections ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON corrections FOR SELECT USING (true);
-- That a visit was replaced tells who has what took its place; that it came back, who added it.
CREATE POLICY added ON corrections FOR INSERT WITH CHECK (times BETWEEN 2 AND 1000000 AND CASE times % 2
  WHEN 0 THEN EXISTS (SELECT FROM visits n WHERE n.digest = by_digest)
  ELSE EXISTS (SELECT FROM visits n WHERE n.digest = corrections.digest AND n.added_by = session_user) END);

-- What is added by SQL is held to its digests, as what the program reads is; else one row of
-- a scout's would spoil what all read, or stand in for another's counts. The owner of the
-- season is bound by none of this.
ALTER TABLE files ADD CONSTRAINT whole CHECK (sha256 = encode(sha256(content), 'hex')) NOT VALID;
ALTER TABLE settings_files ADD CONSTRAINT whole CHECK (sha256 = encode(sha256(content), 'hex')) NOT VALID;

CREATE FUNCTION owns_season() RETURNS BOOLEAN LANGUAGE sql STABLE
  AS $$ SELECT pg_has_role(session_user, n.nspowner, 'MEMBER') FROM pg_namespace n WHERE n.nspname = 'geocoris' $$;

-- A text with its length before it, as digests are taken of several.
CREATE FUNCTION with_length(bytes BYTEA) RETURNS BYTEA LANGUAGE sql IMMUTABLE STRICT
  AS $$ SELECT convert_to(octet_length(bytes) || ':', 'UTF8') || bytes $$;
CREATE FUNCTION sum_of(VARIADIC texts TEXT[]) RETURNS BYTEA LANGUAGE sql IMMUTABLE SET search_path FROM CURRENT
  AS $$ SELECT string_agg(with_length(convert_to(t, 'UTF8')), ''::bytea ORDER BY n) FROM unnest(texts) WITH ORDINALITY AS u (t, n) $$;

-- A geometry as a GeoPackage has it: magic, version, flags, reference system, envelope.
CREATE FUNCTION as_in_file(g geometry) RETURNS BYTEA LANGUAGE sql IMMUTABLE STRICT SET search_path FROM CURRENT
  AS $$ SELECT '\x47500003e6100000'::bytea || substring(ST_AsBinary(ST_MakePoint(ST_XMin(g), ST_XMax(g)), 'NDR') FROM 6)
    || substring(ST_AsBinary(ST_MakePoint(ST_YMin(g), ST_YMax(g)), 'NDR') FROM 6) || ST_AsBinary(g, 'NDR') $$;

CREATE FUNCTION digest_of(v visits) RETURNS TEXT LANGUAGE sql STABLE SET search_path FROM CURRENT AS $$
  SELECT encode(sha256(with_length(convert_to(v.settings, 'UTF8'))
    || coalesce((SELECT string_agg(with_length(convert_to(name, 'UTF8')) || with_length(content), ''::bytea ORDER BY id) FROM files WHERE visit_id = v.id), '')
    || coalesce((SELECT string_agg(convert_to(setting || ':', 'UTF8') || with_length(convert_to(name, 'UTF8')) || with_length(content), ''::bytea ORDER BY id) FROM settings_files WHERE visit_id = v.id), '')
    || coalesce((SELECT string_agg('\x00'::bytea || with_length(convert_to(f.name, 'UTF8')), ''::bytea ORDER BY convert_to(f.name, 'UTF8')) FROM visit_fields p JOIN fields f ON f.id = p.field_id WHERE p.visit_id = v.id), '')), 'hex')
$$;

CREATE FUNCTION hold_visit() RETURNS TRIGGER LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
  IF owns_season() THEN RETURN NULL; END IF;
  IF NEW.digest <> digest_of(NEW)
    OR NOT EXISTS (SELECT FROM files WHERE visit_id = NEW.id)
    OR NEW.sha256 <> encode(sha256(sum_of(VARIADIC ARRAY[NEW.date, NEW.pest, NEW.unit, NEW.author] || coalesce((SELECT array_agg(f.name ORDER BY p.id) FROM visit_fields p JOIN fields f ON f.id = p.field_id WHERE p.visit_id = NEW.id), '{}'))), 'hex')
    OR EXISTS (SELECT FROM visit_fields p JOIN fields f ON f.id = p.field_id WHERE p.visit_id = NEW.id
      AND p.sha256 <> encode(sha256(sum_of(f.name, p.customer, p.farm, p.rows, p.grower) || with_length(as_in_file(f.geom))), 'hex'))
  THEN
    RAISE EXCEPTION 'a visit is not as geocoris writes it' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER hold_visit AFTER INSERT ON visits DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION hold_visit();

CREATE FUNCTION hold_record() RETURNS TRIGGER LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
  IF owns_season() THEN RETURN NEW; END IF;
  IF NEW.date !~ '^\d{4}-\d\d-\d\d$' OR NOT NEW.reentry_hours BETWEEN 0 AND 100000
    OR NEW.sha256 <> encode(sha256(sum_of(NEW.date, NEW.note, NEW.reentry_hours::text) || with_length(as_in_file(NEW.geom))), 'hex')
  THEN
    RAISE EXCEPTION 'a treatment is not as geocoris writes it' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER hold_record BEFORE INSERT ON records FOR EACH ROW EXECUTE FUNCTION hold_record();

-- Ground that no map can show.
CREATE FUNCTION hold_ground() RETURNS TRIGGER LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
  IF owns_season() THEN RETURN NEW; END IF;
  IF ST_IsEmpty(NEW.geom) OR NOT (ST_XMin(NEW.geom) >= -180 AND ST_XMax(NEW.geom) <= 180 AND ST_YMin(NEW.geom) >= -90 AND ST_YMax(NEW.geom) <= 90) THEN
    RAISE EXCEPTION 'a geometry is empty, or of no longitude and latitude' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NEW;
END $$;
DO $$
DECLARE part TEXT;
BEGIN
  FOREACH part IN ARRAY ARRAY['fields', 'stops', 'zones', 'verdicts', 'records'] LOOP
    EXECUTE format('CREATE TRIGGER hold_ground BEFORE INSERT ON %I FOR EACH ROW EXECUTE FUNCTION hold_ground()', part);
  END LOOP;
END $$;
