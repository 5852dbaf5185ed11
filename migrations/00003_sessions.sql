-- +goose Up
-- A session is what the client did. Its id is made on the client's phone, so
-- that the same session sent twice is stored once.
CREATE TABLE sessions (
    id        uuid        PRIMARY KEY,
    client_id uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    day       date        NOT NULL,  -- calendar day in the practice's zone
    week      date        NOT NULL,  -- first day of the week that the day counts to
    note      text        NOT NULL,
    body_hash bytea       NOT NULL CHECK (length(body_hash) = 32),  -- SHA-256 of what was sent: the same id with another body is refused
    logged_at timestamptz NOT NULL,
    logged_by uuid        NOT NULL REFERENCES accounts
);
-- A client's days, newest first.
CREATE INDEX sessions_client_day ON sessions (client_id, day DESC, id);

CREATE TABLE session_parts (
    session_id uuid     NOT NULL REFERENCES sessions ON DELETE RESTRICT,
    n          smallint NOT NULL CHECK (n >= 1),
    activity   text     NOT NULL CHECK (activity <> ''),
    minutes    smallint NOT NULL CHECK (minutes BETWEEN 1 AND 720),
    class      text     NOT NULL CHECK (class IN ('very_light', 'light', 'moderate', 'vigorous', 'near_maximal')), -- for volume
    safety     text     NOT NULL CHECK (safety IN ('very_light', 'light', 'moderate', 'vigorous', 'near_maximal')), -- the hardest evidence
    talk       text     CHECK (talk IN ('sing', 'sentences', 'short', 'few_words', 'none')),
    effort     smallint CHECK (effort BETWEEN 6 AND 20),      -- perceived exertion, Borg 6 to 20
    heart_rate smallint CHECK (heart_rate BETWEEN 30 AND 240), -- beats per minute, steady part
    PRIMARY KEY (session_id, n)
);

-- The weekly totals, kept in the transaction that logs a session. They are
-- written in the order of weeks and read by week, so the key leads with it.
CREATE TABLE week_totals (
    week                date    NOT NULL,
    client_id           uuid    NOT NULL REFERENCES clients ON DELETE RESTRICT,
    light               integer NOT NULL CHECK (light >= 0),     -- minutes, with very light
    moderate            integer NOT NULL CHECK (moderate >= 0),  -- minutes
    vigorous            integer NOT NULL CHECK (vigorous >= 0),  -- minutes, with near-maximal
    moderate_equivalent integer GENERATED ALWAYS AS (moderate + 2 * vigorous) STORED,
    sessions            integer NOT NULL CHECK (sessions >= 0),
    PRIMARY KEY (week, client_id) INCLUDE (light, moderate, vigorous, moderate_equivalent, sessions)
);
-- The last eight weeks of one client.
CREATE INDEX week_totals_client ON week_totals (client_id, week);

-- +goose Down
DROP TABLE week_totals, session_parts, sessions;
