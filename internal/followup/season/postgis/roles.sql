-- The roles of a season in PostGIS. A scout adds, an office reads, nobody deletes.
-- The owner of the season runs this, or an administrator; twice does no harm.
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'geocoris_scout') THEN CREATE ROLE geocoris_scout NOLOGIN; END IF;
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'geocoris_office') THEN CREATE ROLE geocoris_office NOLOGIN; END IF;
END $$;
GRANT USAGE ON SCHEMA geocoris TO geocoris_scout, geocoris_office;
GRANT SELECT ON geocoris.season, geocoris.fields, geocoris.visits, geocoris.visit_fields, geocoris.files, geocoris.settings_files,
  geocoris.stops, geocoris.zones, geocoris.verdicts, geocoris.records, geocoris.superseded, geocoris.corrections,
  geocoris.latest_visits, geocoris.latest_stops, geocoris.latest_zones, geocoris.latest_verdicts, geocoris.latest_fields TO geocoris_scout, geocoris_office;
-- The database gives the numbers: one that a scout chose might stand in the way of all that follow.
DO $$
DECLARE part TEXT; columns TEXT;
BEGIN
  FOREACH part IN ARRAY ARRAY['fields', 'visits', 'visit_fields', 'files', 'settings_files', 'stops', 'zones', 'verdicts', 'records', 'superseded', 'corrections'] LOOP
    SELECT string_agg(quote_ident(attname), ', ') INTO columns FROM pg_attribute
      WHERE attrelid = format('geocoris.%I', part)::regclass AND attnum > 0 AND NOT attisdropped AND attname <> 'id';
    EXECUTE format('GRANT INSERT (%s) ON geocoris.%I TO geocoris_scout', columns, part);
  END LOOP;
END $$;

-- At first both see all growers: geocoris.access says so, and is left as it is.
-- A person of the team, with a password that \password asks for:
--   CREATE ROLE scout_a LOGIN IN ROLE geocoris_scout;
-- Scouts see only the growers that are named to them, once this is run:
--   DELETE FROM geocoris.access WHERE role = 'geocoris_scout';
--   INSERT INTO geocoris.access (role, grower) VALUES ('scout_a', 'Example Farms');
