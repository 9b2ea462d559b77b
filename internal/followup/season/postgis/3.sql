-- What was replaced is known to those that merge: layer of format 6.
ALTER TABLE corrections ENABLE ROW LEVEL SECURITY;
CREATE POLICY seen ON corrections FOR SELECT USING (true);
-- That a visit was replaced tells who has what took its place; that it came back, who added it.
CREATE POLICY added ON corrections FOR INSERT WITH CHECK (times BETWEEN 2 AND 1000000 AND CASE times % 2
  WHEN 0 THEN EXISTS (SELECT FROM visits n WHERE n.digest = by_digest)
  ELSE EXISTS (SELECT FROM visits n WHERE n.digest = corrections.digest AND n.added_by = session_user) END);
