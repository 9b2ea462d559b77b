-- What is added by SQL is held to more: a scout's temporary table stands in for none of ours,
-- nothing comes to a visit once it was looked at, the same counts are there once, and what
-- no reader could use is refused. Treatments are of the growers on whose fields they lie.

-- pg_temp stands last in the path by now; where it is not named it comes first.
ALTER FUNCTION sum_of(TEXT[]) SET search_path FROM CURRENT;
ALTER FUNCTION as_in_file(geometry) SET search_path FROM CURRENT;
ALTER FUNCTION digest_of(visits) SET search_path FROM CURRENT;
ALTER FUNCTION hold_ground() SET search_path FROM CURRENT;
ALTER FUNCTION owns_season() SET search_path FROM CURRENT;

-- Visits that were looked at, which a transaction may ask for before its end.
ALTER TABLE visits ADD COLUMN held BOOLEAN NOT NULL DEFAULT true;
ALTER TABLE visits ALTER COLUMN held SET DEFAULT false;
DO $$
DECLARE part TEXT;
BEGIN
  FOREACH part IN ARRAY ARRAY['files', 'settings_files', 'stops', 'zones', 'verdicts'] LOOP
    EXECUTE format('ALTER POLICY added ON %I WITH CHECK (EXISTS (SELECT FROM visits v WHERE v.id = visit_id AND NOT v.held AND v.xmin = pg_current_xact_id()::xid))', part);
  END LOOP;
END $$;
ALTER POLICY added ON visit_fields WITH CHECK (
  ((SELECT sees_all()) OR grower_of(grower, customer) = ANY ((SELECT growers_seen())::text[]))
  AND EXISTS (SELECT FROM fields f WHERE f.id = field_id)
  AND EXISTS (SELECT FROM visits v WHERE v.id = visit_id AND NOT v.held AND v.xmin = pg_current_xact_id()::xid));

-- A day, or none, or the first and last of several; what is no day of the calendar is an error.
CREATE FUNCTION are_days(days TEXT) RETURNS BOOLEAN LANGUAGE plpgsql STABLE SET search_path FROM CURRENT AS $$
BEGIN
  IF days !~ '^\d{4}-\d\d-\d\d(/\d{4}-\d\d-\d\d)?$' THEN RETURN days = ''; END IF;
  RETURN left(days, 10)::date <= right(days, 10)::date;
EXCEPTION WHEN datetime_field_overflow THEN RETURN false;
END $$;

CREATE FUNCTION is_object(text TEXT) RETURNS BOOLEAN LANGUAGE plpgsql STABLE SET search_path FROM CURRENT AS $$
BEGIN
  RETURN json_typeof(text::json) = 'object';
EXCEPTION WHEN invalid_text_representation THEN RETURN false;
END $$;

-- With the owner's rights, as the same counts may be there where a scout does not see them.
CREATE OR REPLACE FUNCTION hold_visit() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path FROM CURRENT AS $$
BEGIN
  UPDATE visits SET held = true WHERE id = NEW.id;
  IF owns_season() THEN RETURN NULL; END IF;
  -- Writers wait for one another, and see what the others did.
  PERFORM pg_advisory_xact_lock(7450483631416568179);
  IF current_setting('transaction_isolation') <> 'read committed'
    OR NEW.digest <> digest_of(NEW)
    OR NOT are_days(NEW.date)
    OR NOT is_object(NEW.settings)
    OR NOT EXISTS (SELECT FROM files WHERE visit_id = NEW.id)
    OR EXISTS (SELECT FROM (SELECT name FROM files WHERE visit_id = NEW.id UNION ALL SELECT name FROM settings_files WHERE visit_id = NEW.id) AS named WHERE name IN ('', '.', '..') OR name LIKE '%/%')
    OR NEW.sha256 <> encode(sha256(sum_of(VARIADIC ARRAY[NEW.date, NEW.pest, NEW.unit, NEW.author] || coalesce((SELECT array_agg(f.name ORDER BY p.id) FROM visit_fields p JOIN fields f ON f.id = p.field_id WHERE p.visit_id = NEW.id), '{}'))), 'hex')
    OR EXISTS (SELECT FROM visit_fields p JOIN fields f ON f.id = p.field_id WHERE p.visit_id = NEW.id
      AND p.sha256 <> encode(sha256(sum_of(f.name, p.customer, p.farm, p.rows, p.grower) || with_length(as_in_file(f.geom))), 'hex'))
    OR EXISTS (SELECT FROM visits v WHERE v.digest = NEW.digest AND v.id <> NEW.id AND NOT EXISTS (SELECT FROM superseded s WHERE s.visit_id = v.id))
  THEN
    RAISE EXCEPTION 'a visit is not as geocoris writes it' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NULL;
END $$;
REVOKE ALL ON FUNCTION hold_visit() FROM PUBLIC;

CREATE OR REPLACE FUNCTION hold_record() RETURNS TRIGGER LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
  IF owns_season() THEN RETURN NEW; END IF;
  IF length(NEW.date) <> 10 OR NOT are_days(NEW.date) OR NOT NEW.reentry_hours BETWEEN 0 AND 100000
    OR NEW.sha256 <> encode(sha256(sum_of(NEW.date, NEW.note, NEW.reentry_hours::text) || with_length(as_in_file(NEW.geom))), 'hex')
  THEN
    RAISE EXCEPTION 'a treatment is not as geocoris writes it' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NEW;
END $$;

-- The sides of a box tell of no place that is not a number; a text of all places does.
CREATE OR REPLACE FUNCTION hold_ground() RETURNS TRIGGER LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
  IF owns_season() THEN RETURN NEW; END IF;
  IF ST_IsEmpty(NEW.geom) OR ST_AsText(NEW.geom) ~* 'nan|inf'
    OR NOT (ST_XMin(NEW.geom) >= -180 AND ST_XMax(NEW.geom) <= 180 AND ST_YMin(NEW.geom) >= -90 AND ST_YMax(NEW.geom) <= 90) THEN
    RAISE EXCEPTION 'a geometry is empty, or of no longitude and latitude' USING ERRCODE = 'check_violation';
  END IF;
  RETURN NEW;
END $$;

-- Numbers that no map program reads; what is not a number is above all numbers.
DO $$
DECLARE part TEXT; finite TEXT;
BEGIN
  FOREACH part IN ARRAY ARRAY['stops', 'zones', 'verdicts'] LOOP
    SELECT string_agg(format('%1$I > ''-Infinity'' AND %1$I < ''Infinity''', attname), ' AND ') INTO finite FROM pg_attribute
      WHERE attrelid = part::regclass AND attnum > 0 AND NOT attisdropped AND atttypid = 'float8'::regtype;
    EXECUTE format('ALTER TABLE %I ADD CONSTRAINT finite CHECK (%s) NOT VALID', part, finite);
  END LOOP;
END $$;

-- Whoever draws a field of their own over another's ground sees no treatment of it: of fields
-- that share ground the first has it, and what a scout adds is of that scout's growers. Who
-- added one is who was logged in, unknown of earlier ones.
ALTER TABLE records ADD COLUMN added_by TEXT, ADD COLUMN growers TEXT[] NOT NULL DEFAULT '{}';
CREATE FUNCTION shared(a geometry, b geometry) RETURNS DOUBLE PRECISION LANGUAGE sql STABLE SET search_path FROM CURRENT
  AS $$ SELECT ST_Area(ST_Intersection(ST_MakeValid(a), ST_MakeValid(b))) $$;
CREATE FUNCTION growers_at(ground geometry, firsts BOOLEAN) RETURNS TEXT[] LANGUAGE sql STABLE SECURITY DEFINER SET search_path FROM CURRENT AS $$
  WITH at AS (SELECT id, grower, geom FROM fields WHERE grower IS NOT NULL AND geom && ground AND ST_Intersects(geom, ground) AND NOT ST_Touches(geom, ground))
  SELECT coalesce(array_agg(DISTINCT grower), '{}') FROM at WHERE NOT firsts OR NOT EXISTS (
    SELECT FROM at AS other WHERE other.id < at.id AND other.grower <> at.grower
      AND shared(other.geom, ST_Intersection(ST_MakeValid(at.geom), ST_MakeValid(ground))) > shared(at.geom, ground) / 2)
$$;
UPDATE records SET growers = growers_at(geom, true);
CREATE FUNCTION place_record() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path FROM CURRENT AS $$
DECLARE firsts BOOLEAN := owns_season() OR sees_all();
BEGIN
  NEW.growers := growers_at(NEW.geom, firsts);
  IF NOT firsts THEN NEW.growers := ARRAY(SELECT unnest(NEW.growers) INTERSECT SELECT unnest(growers_seen())); END IF;
  NEW.added_by := session_user;
  RETURN NEW;
END $$;
CREATE TRIGGER place_record BEFORE INSERT ON records FOR EACH ROW EXECUTE FUNCTION place_record();
ALTER POLICY seen ON records USING ((SELECT sees_all()) OR growers && (SELECT growers_seen()));
ALTER POLICY added ON records WITH CHECK ((SELECT sees_all()) OR growers && (SELECT growers_seen()));

-- A field that nobody had gets the treatments there that are of nobody; one that goes to
-- another grower takes those on it along.
CREATE FUNCTION move_treatments() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path FROM CURRENT AS $$
BEGIN
  UPDATE records SET growers = (SELECT array_agg(DISTINCT g) FROM unnest(array_append(records.growers, NEW.grower)) g WHERE g IS DISTINCT FROM OLD.grower OR g = ANY (growers_at(records.geom, true)))
    WHERE (OLD.grower = ANY (growers) OR OLD.grower IS NULL AND growers = '{}')
      AND geom && NEW.geom AND ST_Intersects(geom, NEW.geom) AND NOT ST_Touches(geom, NEW.geom);
  RETURN NULL;
END $$;
CREATE TRIGGER move_treatments AFTER UPDATE OF grower ON fields FOR EACH ROW EXECUTE FUNCTION move_treatments();
REVOKE ALL ON FUNCTION growers_at(geometry, BOOLEAN), place_record(), move_treatments() FROM PUBLIC;
