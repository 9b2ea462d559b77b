-- Who added a visit, what took the place of what, and layers for map programs.

-- Authors are whoever the visit says; this is who was logged in.
ALTER TABLE visits ADD COLUMN added_by TEXT NOT NULL DEFAULT session_user;

-- Numbers follow one another, as those of a file do: writers wait for one another.
CREATE FUNCTION next_visit() RETURNS BIGINT LANGUAGE sql STABLE SECURITY DEFINER SET search_path = geocoris, pg_temp
  AS 'SELECT coalesce(max(id), 0) + 1 FROM visits';
ALTER TABLE visits ALTER COLUMN id DROP IDENTITY;
ALTER TABLE visits ALTER COLUMN id SET DEFAULT geocoris.next_visit();

CREATE TABLE superseded (
  visit_id BIGINT PRIMARY KEY REFERENCES visits (id),
  by_visit_id BIGINT NOT NULL REFERENCES visits (id),
  CHECK (visit_id <> by_visit_id)
);

CREATE INDEX ON visits (digest);
CREATE INDEX ON files (sha256);
CREATE INDEX ON stops (field);
CREATE INDEX ON zones (field);
CREATE INDEX ON visit_fields (field_id, id);

-- The last visit of each field that was not replaced.
CREATE VIEW latest_visits WITH (security_invoker = true) AS
  SELECT DISTINCT ON (vf.field_id) vf.field_id, v.id AS visit_id, v.date, v.pest, v.unit, v.author, v.added_by, vf.customer, vf.farm
  FROM visit_fields vf JOIN visits v ON v.id = vf.visit_id
  WHERE NOT EXISTS (SELECT FROM superseded s WHERE s.visit_id = v.id)
  ORDER BY vf.field_id, v.date COLLATE "C" DESC, v.id DESC;

CREATE VIEW latest_stops WITH (security_invoker = true) AS
  SELECT s.* FROM stops s JOIN fields f ON f.name = s.field JOIN latest_visits l ON l.field_id = f.id AND l.visit_id = s.visit_id;

CREATE VIEW latest_zones WITH (security_invoker = true) AS
  SELECT z.* FROM zones z JOIN fields f ON f.name = z.field JOIN latest_visits l ON l.field_id = f.id AND l.visit_id = z.visit_id;

CREATE VIEW latest_verdicts WITH (security_invoker = true) AS
  SELECT d.* FROM verdicts d JOIN fields f ON f.name = d.field JOIN latest_visits l ON l.field_id = f.id AND l.visit_id = d.visit_id;

-- A row a field, as its last visit found it: the ground of each zone, and the stops.
CREATE VIEW latest_fields WITH (security_invoker = true) AS
  SELECT f.id, f.geom, f.name, l.customer, l.farm, l.visit_id, l.date, l.pest, l.unit, l.author,
    coalesce(z.treat_ha, 0) AS treat_ha, coalesce(z.watch_ha, 0) AS watch_ha, coalesce(z.clear_ha, 0) AS clear_ha, z.trust,
    (SELECT count(*) FROM stops s WHERE s.visit_id = l.visit_id AND s.field = f.name) AS stops
  FROM fields f JOIN latest_visits l ON l.field_id = f.id
  LEFT JOIN LATERAL (
    SELECT sum(area_ha) FILTER (WHERE zone = 'treat') AS treat_ha, sum(area_ha) FILTER (WHERE zone = 'watch') AS watch_ha,
      sum(area_ha) FILTER (WHERE zone = 'clear') AS clear_ha, max(trust) AS trust
    FROM zones WHERE zones.visit_id = l.visit_id AND zones.field = f.name
  ) z ON true;
