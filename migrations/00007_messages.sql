-- +goose Up
-- A note from the practice to a client, about a week or one session of it. It is
-- part of the record: neither it nor its answer is changed or deleted, and one
-- that was wrong is withdrawn.
CREATE TABLE messages (
    id         uuid        PRIMARY KEY,
    client_id  uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    week       date        NOT NULL,  -- first day of the week that it is about
    session_id uuid        REFERENCES sessions ON DELETE RESTRICT,  -- NULL if it is about the week
    text       text        NOT NULL CHECK (text <> '' AND char_length(text) <= 500),
    sent_at    timestamptz NOT NULL,
    sent_by    uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX messages_client ON messages (client_id, sent_at DESC, id);
CREATE TRIGGER messages_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON messages
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- When the client was first shown a note.
CREATE TABLE message_views (
    message_id uuid        PRIMARY KEY REFERENCES messages ON DELETE RESTRICT,
    seen_at    timestamptz NOT NULL
);
CREATE TRIGGER message_views_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON message_views
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- The client's answer: one to a note.
CREATE TABLE message_answers (
    message_id uuid        PRIMARY KEY REFERENCES messages ON DELETE RESTRICT,
    text       text        NOT NULL CHECK (text <> '' AND char_length(text) <= 500),
    at         timestamptz NOT NULL,
    by         uuid        NOT NULL REFERENCES accounts
);
CREATE TRIGGER message_answers_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON message_answers
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- That somebody of the practice has read an answer.
CREATE TABLE message_reads (
    message_id uuid        PRIMARY KEY REFERENCES message_answers ON DELETE RESTRICT,
    at         timestamptz NOT NULL,
    by         uuid        NOT NULL REFERENCES accounts
);
CREATE TRIGGER message_reads_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON message_reads
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A note that was wrong: the client no longer sees its text, the practice does.
CREATE TABLE message_withdrawals (
    message_id uuid        PRIMARY KEY REFERENCES messages ON DELETE RESTRICT,
    reason     text        NOT NULL CHECK (reason <> ''),
    at         timestamptz NOT NULL,
    by         uuid        NOT NULL REFERENCES accounts
);
CREATE TRIGGER message_withdrawals_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON message_withdrawals
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE message_withdrawals, message_reads, message_answers, message_views, messages;
