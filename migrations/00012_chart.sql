-- +goose Up
-- Vital signs before a session. A row is never changed: what is measured again, a
-- correction, and that it was entered in error, are rows that take its place.
CREATE TABLE vitals (
    id               uuid        PRIMARY KEY,  -- made with the form, so that one sent twice is stored once
    client_id        uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    first            uuid        NOT NULL REFERENCES vitals ON DELETE RESTRICT,  -- the row that all versions of this reading began with
    change           text        NOT NULL CHECK (change IN ('new', 'again', 'correct', 'error')),
    taken_at         timestamptz NOT NULL,  -- when the first row was entered: it is measured at the desk
    reading          jsonb       NOT NULL,  -- as measured, with what the record said of the client
    judgement        jsonb       NOT NULL,  -- what the rules answered
    rule_set         text        NOT NULL CHECK (rule_set <> ''),
    settings_version integer     NOT NULL CHECK (settings_version >= 0),  -- 0 is all defaults
    supersedes       uuid        UNIQUE REFERENCES vitals ON DELETE RESTRICT,
    reason           text        NOT NULL,
    entered_at       timestamptz NOT NULL,
    entered_by       uuid        NOT NULL REFERENCES accounts,
    CHECK ((change = 'new') = (supersedes IS NULL)),
    CHECK ((change = 'new') = (first = id)),
    CHECK (change NOT IN ('correct', 'error') OR reason <> '')
);
-- A client's readings, the newest first.
CREATE INDEX vitals_client ON vitals (client_id, taken_at DESC);
CREATE TRIGGER vitals_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON vitals
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- The reading that opened a hold: by the row it began with. It is corrected, and
-- the hold with it.
ALTER TABLE holds ADD COLUMN vitals_id uuid REFERENCES vitals ON DELETE RESTRICT;

-- A clinical note. It is a draft of its author until it is signed; then it is
-- locked, and what has to be added or put right is an addendum.
CREATE TABLE notes (
    id           uuid        PRIMARY KEY,  -- made with the form, so that one sent twice is stored once
    client_id    uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    kind         text        NOT NULL CHECK (kind IN ('visit', 'call', 'cancelled', 'missed', 'other')),
    event_on     date        NOT NULL,  -- the day it is about
    body         text        NOT NULL,
    version      integer     NOT NULL CHECK (version > 0),  -- raised by each saving: two windows are told apart
    author       uuid        NOT NULL REFERENCES accounts,
    entered_at   timestamptz NOT NULL,  -- when it was begun, by the server's clock
    saved_at     timestamptz NOT NULL,
    signed_at    timestamptz,
    signed_name  text        NOT NULL DEFAULT '',  -- the author's name as it was then
    discarded_at timestamptz,  -- a draft that its author gave up
    CHECK (signed_at IS NULL OR discarded_at IS NULL),
    CHECK ((signed_at IS NULL) = (signed_name = '')),
    CHECK (signed_at IS NULL OR body <> '')
);
CREATE INDEX notes_client ON notes (client_id, event_on DESC);
-- The list of the day asks for notes that are not signed.
CREATE INDEX notes_unsigned ON notes (client_id) WHERE signed_at IS NULL AND discarded_at IS NULL;
CREATE TRIGGER notes_locked BEFORE UPDATE ON notes
    FOR EACH ROW WHEN (OLD.signed_at IS NOT NULL OR NEW.entered_at <> OLD.entered_at OR NEW.author <> OLD.author)
    EXECUTE FUNCTION refuse_change();
CREATE TRIGGER notes_kept BEFORE DELETE OR TRUNCATE ON notes
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE note_addenda (
    id         uuid        PRIMARY KEY,
    note_id    uuid        NOT NULL REFERENCES notes ON DELETE RESTRICT,
    body       text        NOT NULL CHECK (body <> ''),
    reason     text        NOT NULL CHECK (reason <> ''),
    entered_at timestamptz NOT NULL,
    entered_by uuid        NOT NULL REFERENCES accounts,
    name       text        NOT NULL CHECK (name <> '')  -- of the account as it was then
);
CREATE INDEX note_addenda_note ON note_addenda (note_id, id);
CREATE TRIGGER note_addenda_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON note_addenda
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE note_addenda, notes;
ALTER TABLE holds DROP COLUMN vitals_id;
DROP TABLE vitals;
