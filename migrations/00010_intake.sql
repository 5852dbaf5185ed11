-- +goose Up
-- Each save of an intake, with what stood in the fields before: nothing that
-- somebody typed is lost, and two people who type at once see both.
CREATE TABLE intake_saves (
    id        uuid        PRIMARY KEY,
    client_id uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    version   integer     NOT NULL CHECK (version > 0),  -- of the draft that the save made
    before    jsonb       NOT NULL,  -- of the fields that changed, what stood there
    after     jsonb       NOT NULL,  -- and what was typed
    saved_at  timestamptz NOT NULL,
    saved_by  uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX intake_saves_client ON intake_saves (client_id, saved_at DESC);
CREATE TRIGGER intake_saves_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON intake_saves
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What a client agreed to. A consent ends by its last day or by being withdrawn,
-- and is never changed otherwise.
CREATE TABLE consents (
    id              uuid        PRIMARY KEY,
    client_id       uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    kind            text        NOT NULL CHECK (kind IN ('care', 'share')),
    recipient       text        NOT NULL,  -- with whom is shared
    purpose         text        NOT NULL CHECK (purpose <> ''),
    what            text        NOT NULL CHECK (what <> ''),  -- what happens, or what is shared
    text_version    text        NOT NULL CHECK (text_version <> ''),  -- of what the client read
    given_on        date        NOT NULL,
    expires_on      date,       -- the first day on which it does not count; NULL only for care
    recorded_at     timestamptz NOT NULL,
    recorded_by     uuid        NOT NULL REFERENCES accounts,
    withdrawn_on    date,
    withdrawn_at    timestamptz,
    withdrawn_by    uuid        REFERENCES accounts,
    withdrawn_why   text        NOT NULL DEFAULT '',
    CHECK ((kind = 'share') = (recipient <> '')),
    CHECK (kind = 'care' OR expires_on IS NOT NULL),
    CHECK (expires_on > given_on),
    CHECK ((withdrawn_on IS NULL) = (withdrawn_by IS NULL) AND (withdrawn_on IS NULL) = (withdrawn_at IS NULL))
);
CREATE INDEX consents_client ON consents (client_id, given_on);

-- What stood in a record about who a client is before it was changed.
CREATE TABLE client_revisions (
    id          uuid        PRIMARY KEY,
    client_id   uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    before      jsonb       NOT NULL,
    replaced_at timestamptz NOT NULL,
    replaced_by uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX client_revisions_client ON client_revisions (client_id, replaced_at);
CREATE TRIGGER client_revisions_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON client_revisions
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Changes in a client's health between two screenings, as a practitioner hears of
-- them. Each asks for a new screening.
CREATE TABLE health_changes (
    id          uuid        PRIMARY KEY,
    client_id   uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    kind        text        NOT NULL CHECK (kind IN ('new_symptom', 'new_event', 'new_diagnosis', 'medicine_change', 'pregnancy')),
    day         date        NOT NULL,
    note        text        NOT NULL CHECK (note <> ''),
    heart_rate  boolean     NOT NULL,  -- a medicine that bears on it
    glucose     boolean     NOT NULL,
    recorded_at timestamptz NOT NULL,
    recorded_by uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX health_changes_client ON health_changes (client_id, day);
CREATE TRIGGER health_changes_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON health_changes
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE health_changes, client_revisions, consents, intake_saves;
