-- +goose Up
-- A session can be put right and taken away. What stood before is kept in
-- session_revisions; body_hash stays that of what was sent first, so that the
-- first form sent again changes nothing.
ALTER TABLE sessions
    ADD COLUMN version    integer     NOT NULL DEFAULT 1 CHECK (version > 0),  -- raised by each change: two editors are told apart
    ADD COLUMN phone_at   timestamptz,  -- by the phone's clock, when it was logged; NULL if it did not say
    ADD COLUMN answers    jsonb       NOT NULL DEFAULT '{}',  -- to the questions that the triage asked: yes or no by code
    ADD COLUMN deleted_at timestamptz,
    ADD COLUMN deleted_by uuid REFERENCES accounts,
    ADD CONSTRAINT sessions_deleted CHECK ((deleted_at IS NULL) = (deleted_by IS NULL));

-- What the client ticked: a code of the table of reports.
CREATE TABLE session_reports (
    session_id uuid NOT NULL REFERENCES sessions ON DELETE RESTRICT,
    report     text NOT NULL CHECK (report <> ''),
    PRIMARY KEY (session_id, report)
);

-- A version of a session that another one has taken the place of.
CREATE TABLE session_revisions (
    session_id  uuid        NOT NULL REFERENCES sessions ON DELETE RESTRICT,
    version     integer     NOT NULL CHECK (version > 0),
    body        jsonb       NOT NULL,  -- day, note, parts with their classes, reports
    change      text        NOT NULL CHECK (change IN ('edit', 'answer', 'delete', 'restore')),  -- what ended it
    reason      text        NOT NULL,  -- may be empty
    replaced_at timestamptz NOT NULL,
    replaced_by uuid        NOT NULL REFERENCES accounts,
    PRIMARY KEY (session_id, version)
);
CREATE TRIGGER session_revisions_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON session_revisions
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What reports and numbers came to: of a version of a session, or of a report
-- without exercise. It is never changed; a later version of the session has one
-- of its own.
CREATE TABLE triages (
    id              uuid        PRIMARY KEY,  -- of a report without exercise: made by the client's phone
    client_id       uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    session_id      uuid        REFERENCES sessions ON DELETE RESTRICT,
    session_version integer,
    day             date        NOT NULL,
    reports         text[]      NOT NULL,
    note            text        NOT NULL,  -- of a report without exercise
    body_hash       bytea       CHECK (length(body_hash) = 32),  -- of a report without exercise, as sent
    level           text        NOT NULL CHECK (level IN ('fine', 'note', 'ease', 'stop', 'emergency')),
    hold            text        NOT NULL CHECK (hold IN ('none', 'vigorous', 'above_light', 'all')),
    rules           text[]      NOT NULL,
    rule_set        text        NOT NULL,
    input           jsonb       NOT NULL,  -- what the rules were given
    assessment      jsonb       NOT NULL,  -- what they answered
    at              timestamptz NOT NULL,
    by              uuid        NOT NULL REFERENCES accounts,
    CHECK ((session_id IS NULL) = (session_version IS NULL)),
    CHECK ((session_id IS NULL) = (body_hash IS NOT NULL))
);
CREATE INDEX triages_client ON triages (client_id, day DESC);
CREATE INDEX triages_session ON triages (session_id, session_version DESC) WHERE session_id IS NOT NULL;
CREATE TRIGGER triages_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON triages
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A flag is something that a practitioner has to look at. It is done with, never
-- deleted. The worklist shows those that are open.
CREATE TABLE flags (
    id          uuid        PRIMARY KEY,
    client_id   uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    kind        text        NOT NULL CHECK (kind <> ''),     -- what raised it: triage
    subject     text        NOT NULL CHECK (subject <> ''),  -- what it is about: session/ID, triage/ID
    urgency     smallint    NOT NULL CHECK (urgency BETWEEN 1 AND 4),  -- 4 is now, 3 a day, 2 some days, 1 the next review
    due         date,       -- the last day to act on; NULL if there is none
    cause       text        NOT NULL CHECK (cause <> ''),    -- code of the report or finding that weighs most
    rule        text        NOT NULL,                        -- that raised it
    text        text        NOT NULL CHECK (text <> ''),     -- what happened, for the practitioner
    action      text        NOT NULL CHECK (action <> ''),   -- what to do about it
    href        text        NOT NULL CHECK (href LIKE '/%'), -- where
    opened_at   timestamptz NOT NULL,
    opened_by   uuid        REFERENCES accounts,             -- NULL if nobody did anything: a day came
    done_at     timestamptz,
    done_by     uuid        REFERENCES accounts,
    done_reason text        NOT NULL DEFAULT '',
    CHECK ((done_at IS NULL) = (done_by IS NULL)),
    CHECK (done_at IS NULL OR done_reason <> '')
);
CREATE INDEX flags_open ON flags (client_id) WHERE done_at IS NULL;

-- The late questions after a client's first hard session: asked once.
CREATE TABLE late_questions (
    client_id   uuid        PRIMARY KEY REFERENCES clients ON DELETE RESTRICT,
    session_id  uuid        NOT NULL REFERENCES sessions ON DELETE RESTRICT,
    ended_at    timestamptz NOT NULL,  -- the session's end, as far as anybody knows
    answered_at timestamptz,
    triage_id   uuid        REFERENCES triages,
    CHECK ((answered_at IS NULL) = (triage_id IS NULL))
);

-- +goose Down
DROP TABLE late_questions, flags, triages, session_revisions, session_reports;
ALTER TABLE sessions
    DROP COLUMN version,
    DROP COLUMN phone_at,
    DROP COLUMN answers,
    DROP COLUMN deleted_at,
    DROP COLUMN deleted_by;
