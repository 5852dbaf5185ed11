-- +goose Up
-- How a client wants to be reminded by e-mail. Of one who no longer does, only
-- the count of links is kept, so that stopping and starting fills no letter box.
CREATE TABLE reminders (
    account_id   uuid        PRIMARY KEY REFERENCES accounts ON DELETE RESTRICT,
    client_id    uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    address      text        NOT NULL CHECK (stopped_at IS NOT NULL OR address LIKE '%_@_%'),
    days         smallint    NOT NULL CHECK (days BETWEEN 1 AND 127),      -- bit 0 is Sunday
    minute       smallint    NOT NULL CHECK (minute BETWEEN 0 AND 1439),   -- of the day, by the practice's clock
    confirm_hash text        UNIQUE,       -- of the link that was sent to the address; NULL once it was used
    confirm_by   timestamptz,              -- until when that link works
    confirmed_at timestamptz,              -- nothing is sent before
    asked_on     date        NOT NULL,     -- links to confirm are counted by the day
    asked        smallint    NOT NULL CHECK (asked > 0),
    last_day     date,                     -- the day whose reminder was claimed last, before it is sent
    tried_on     date,                     -- the day of the tries below
    tries        smallint    NOT NULL DEFAULT 0 CHECK (tries >= 0), -- that the mail server did not take
    next_try     timestamptz,
    stopped_at   timestamptz,
    CHECK ((confirm_hash IS NULL) = (confirm_by IS NULL))
);

-- The links by which a mail lets its reader stop. Each mail has its own.
CREATE TABLE reminder_links (
    token_hash text        PRIMARY KEY,
    account_id uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT,
    made_at    timestamptz NOT NULL
);
-- The clean-up deletes those of mails that nobody reads any more.
CREATE INDEX reminder_links_made_at ON reminder_links (made_at);

-- The secret address of a client's calendar.
CREATE TABLE calendar_feeds (
    client_id  uuid        PRIMARY KEY REFERENCES clients ON DELETE RESTRICT,
    token_hash text        NOT NULL UNIQUE,
    made_at    timestamptz NOT NULL
);

-- What a calendar was told, so that it can be told what has changed.
CREATE TABLE calendar_events (
    id         uuid        PRIMARY KEY,  -- the event's name for all time
    client_id  uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    day        date        NOT NULL,
    n          smallint    NOT NULL CHECK (n >= 1),            -- of the day
    minutes    smallint    NOT NULL CHECK (minutes > 0),
    sequence   integer     NOT NULL CHECK (sequence >= 0),     -- raised by each change
    cancelled  boolean     NOT NULL,
    changed_at timestamptz NOT NULL,
    UNIQUE (client_id, day, n)
);

-- +goose Down
DROP TABLE calendar_events, calendar_feeds, reminder_links, reminders;
