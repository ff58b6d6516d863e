-- Roles of a department's archive: reader, technician, head. Run by the owner of the database, in that database:
--
--     psql "$ADDRESS" -v ON_ERROR_STOP=1 -f roles.sql
--
-- It may be run again at any time. Accounts are the database's own; give each person one of the three roles:
--
--     CREATE ROLE ada LOGIN PASSWORD '...' IN ROLE waywright_technician;
--
-- In pg_hba.conf let in nobody but over TLS, by password:
--
--     hostssl  geometry  +waywright_reader  0.0.0.0/0  scram-sha-256
--     hostssl  geometry  +waywright_reader  ::/0       scram-sha-256

DO $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'waywright_reader') THEN
        CREATE ROLE waywright_reader NOLOGIN;
    END IF;
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'waywright_technician') THEN
        CREATE ROLE waywright_technician NOLOGIN;
    END IF;
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'waywright_head') THEN
        CREATE ROLE waywright_head NOLOGIN;
    END IF;
    -- A technician may all that a reader may, a head all that a technician may.
    GRANT waywright_reader TO waywright_technician;
    GRANT waywright_technician TO waywright_head;
    EXECUTE format('REVOKE ALL ON DATABASE %I FROM PUBLIC', current_database());
    EXECUTE format('GRANT CONNECT ON DATABASE %I TO waywright_reader', current_database());
END $$;

REVOKE ALL ON SCHEMA public FROM PUBLIC;
REVOKE ALL ON ALL TABLES IN SCHEMA public FROM PUBLIC;
GRANT USAGE ON SCHEMA public TO waywright_reader;
GRANT SELECT ON ALL TABLES IN SCHEMA public TO waywright_reader;
GRANT INSERT ON subject, record, reading, stream_block, pass_event, content TO waywright_technician;
-- A trigger lets through one change only: a name that an event says is blanked may become empty.
GRANT UPDATE (body) ON record TO waywright_head;

-- Rules row by row. Without a policy that says yes nobody sees or adds a row.
ALTER TABLE subject ENABLE ROW LEVEL SECURITY;
ALTER TABLE record ENABLE ROW LEVEL SECURITY;
ALTER TABLE reading ENABLE ROW LEVEL SECURITY;
ALTER TABLE stream_block ENABLE ROW LEVEL SECURITY;
ALTER TABLE pass_event ENABLE ROW LEVEL SECURITY;
ALTER TABLE content ENABLE ROW LEVEL SECURITY;

DO $$
DECLARE
    name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['subject', 'record', 'reading', 'stream_block', 'pass_event', 'content'] LOOP
        EXECUTE format('DROP POLICY IF EXISTS reader_sees ON %I', name);
        EXECUTE format('CREATE POLICY reader_sees ON %I FOR SELECT TO waywright_reader USING (true)', name);
        EXECUTE format('DROP POLICY IF EXISTS technician_adds ON %I', name);
    END LOOP;
    FOREACH name IN ARRAY ARRAY['subject', 'reading', 'stream_block', 'pass_event', 'content'] LOOP
        EXECUTE format('CREATE POLICY technician_adds ON %I FOR INSERT TO waywright_technician WITH CHECK (true)', name);
    END LOOP;
END $$;

-- A technician takes back what belongs to a measurement (an exclusion, a piece of evidence, a note), never a machine,
-- a visit, a person or a plan, and blanks no names; the head may.
CREATE POLICY technician_adds ON record FOR INSERT TO waywright_technician WITH CHECK (
    CASE (SELECT kind FROM subject WHERE subject.id = record.subject)
        WHEN 'person' THEN body IS NOT NULL AND (body::json ->> 'blanked') IS DISTINCT FROM 'true'
        WHEN 'machine' THEN body IS NOT NULL
        WHEN 'site' THEN body IS NOT NULL
        WHEN 'visit' THEN body IS NOT NULL
        WHEN 'line' THEN body IS NOT NULL
        WHEN 'plan' THEN body IS NOT NULL
        WHEN 'instrument' THEN body IS NOT NULL
        ELSE true
    END
);
DROP POLICY IF EXISTS head_adds ON record;
CREATE POLICY head_adds ON record FOR INSERT TO waywright_head WITH CHECK (true);
DROP POLICY IF EXISTS head_blanks ON record;
CREATE POLICY head_blanks ON record FOR UPDATE TO waywright_head USING (
    (SELECT kind FROM subject WHERE subject.id = record.subject) = 'person'
) WITH CHECK ((body::json ->> 'name') = '');
