-- +goose Up
-- A fitness test as it was done: readings, conditions, and what the rules made of
-- them on that day. A mistake is superseded by a corrected one, or marked.
CREATE TABLE fitness_tests (
    id               uuid        PRIMARY KEY,  -- made with the form, so that one sent twice is stored once
    client_id        uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    test             text        NOT NULL CHECK (test <> ''),
    done_on          date        NOT NULL,
    input            jsonb       NOT NULL,  -- the readings, as the rules were given them
    conditions       jsonb       NOT NULL,  -- readings at rest, course, note
    result           jsonb       NOT NULL,  -- what the rules answered, with flags and sources
    rule_set         text        NOT NULL,
    settings_version integer     NOT NULL CHECK (settings_version >= 0),  -- 0 is all defaults
    supersedes       uuid        UNIQUE REFERENCES fitness_tests ON DELETE RESTRICT,
    reason           text        NOT NULL,  -- why it supersedes another one
    created_at       timestamptz NOT NULL,
    created_by       uuid        NOT NULL REFERENCES accounts,
    CHECK ((supersedes IS NULL) = (reason = ''))
);
-- A client's tests, the newest first.
CREATE INDEX fitness_tests_client ON fitness_tests (client_id, done_on DESC, created_at DESC);
CREATE TRIGGER fitness_tests_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON fitness_tests
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Tests that were entered in error: of somebody else, or never done.
CREATE TABLE fitness_test_errors (
    test_id   uuid        PRIMARY KEY REFERENCES fitness_tests ON DELETE RESTRICT,
    reason    text        NOT NULL CHECK (reason <> ''),
    marked_at timestamptz NOT NULL,
    marked_by uuid        NOT NULL REFERENCES accounts
);
CREATE TRIGGER fitness_test_errors_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON fitness_test_errors
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE fitness_test_errors, fitness_tests;
