-- In the tests' databases alone: a change of a client's record by the store is
-- refused unless the record has got another revision in the same transaction. What
-- tests write behind the store is not looked at.
CREATE FUNCTION watch_client() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF current_setting('application_name') <> 'brae' THEN
        RETURN NEW;
    END IF;
    IF TG_OP = 'INSERT' OR NEW.revision <> OLD.revision THEN
        PERFORM set_config('watch.c' || translate(NEW.id::text, '-', ''), 'renewed', true);
    ELSIF coalesce(current_setting('watch.c' || translate(NEW.id::text, '-', ''), true), '') <> 'renewed' THEN
        RAISE EXCEPTION 'clients: a change without another revision';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER watch_client BEFORE INSERT OR UPDATE ON clients FOR EACH ROW EXECUTE FUNCTION watch_client();

CREATE FUNCTION watch_record() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    changed jsonb := CASE TG_OP WHEN 'DELETE' THEN to_jsonb(OLD) ELSE to_jsonb(NEW) END;
    client  uuid := changed->>'client_id';
BEGIN
    IF current_setting('application_name') <> 'brae' THEN
        RETURN NULL;
    END IF;
    IF TG_NARGS > 0 THEN -- a row of a row: the column that says which, and the table of the other
        EXECUTE format('SELECT client_id FROM %I WHERE id = $1', TG_ARGV[1]) INTO client USING (changed->>TG_ARGV[0])::uuid;
    END IF;
    IF coalesce(current_setting('watch.c' || translate(client::text, '-', ''), true), '') <> 'renewed' THEN
        RAISE EXCEPTION '%: a change of a record without another revision', TG_TABLE_NAME;
    END IF;
    RETURN NULL;
END $$;

DO $$
DECLARE
    name text;
BEGIN
    FOR name IN
        SELECT c.table_name FROM information_schema.columns c JOIN information_schema.tables t USING (table_schema, table_name)
        WHERE c.table_schema = 'public' AND c.column_name = 'client_id' AND t.table_type = 'BASE TABLE'
            AND c.table_name NOT IN ('audit', 'intake_drafts', 'intake_saves', 'calendar_feeds', 'calendar_events', 'reminders') -- beside the record
    LOOP
        EXECUTE format('CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION watch_record()', name);
    END LOOP;
END $$;
CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON session_parts
    FOR EACH ROW EXECUTE FUNCTION watch_record('session_id', 'sessions');
CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON plan_weeks
    FOR EACH ROW EXECUTE FUNCTION watch_record('plan_id', 'plans');
CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON clearance_events
    FOR EACH ROW EXECUTE FUNCTION watch_record('clearance_id', 'clearances');
CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON clearance_documents
    FOR EACH ROW EXECUTE FUNCTION watch_record('clearance_id', 'clearances');
CREATE TRIGGER watch_record AFTER INSERT OR UPDATE OR DELETE ON fitness_test_errors
    FOR EACH ROW EXECUTE FUNCTION watch_record('test_id', 'fitness_tests');
