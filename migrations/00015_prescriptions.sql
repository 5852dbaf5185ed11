-- +goose Up
-- What carries the intensity of a prescription, how it should build up, and what it
-- rested on, so that it can be told when it is out of date. The limits of the form
-- are settings of the practice; the database refuses only what cannot be.
ALTER TABLE prescriptions
    ADD COLUMN method      text  NOT NULL DEFAULT 'talk' CHECK (method IN ('talk', 'effort', 'reserve', 'maximum', 'oxygen', 'workload')),
    ADD COLUMN aim         jsonb NOT NULL DEFAULT '[]', -- figures of the method on the day
    ADD COLUMN progression text  NOT NULL DEFAULT '',   -- how it should build up
    ADD COLUMN inputs      jsonb,                       -- NULL: signed before they were kept
    DROP CONSTRAINT prescriptions_sessions_per_week_check,
    DROP CONSTRAINT prescriptions_minutes_per_session_check,
    DROP CONSTRAINT prescriptions_target_check,
    ADD CONSTRAINT prescriptions_sessions_per_week_check CHECK (sessions_per_week BETWEEN 1 AND 100),
    ADD CONSTRAINT prescriptions_minutes_per_session_check CHECK (minutes_per_session BETWEEN 1 AND 1440),
    ADD CONSTRAINT prescriptions_target_check CHECK (target BETWEEN 0 AND 10080);

-- +goose Down
ALTER TABLE prescriptions
    DROP COLUMN method, DROP COLUMN aim, DROP COLUMN progression, DROP COLUMN inputs,
    DROP CONSTRAINT prescriptions_sessions_per_week_check,
    DROP CONSTRAINT prescriptions_minutes_per_session_check,
    DROP CONSTRAINT prescriptions_target_check,
    ADD CONSTRAINT prescriptions_sessions_per_week_check CHECK (sessions_per_week BETWEEN 1 AND 14),
    ADD CONSTRAINT prescriptions_minutes_per_session_check CHECK (minutes_per_session BETWEEN 1 AND 240),
    ADD CONSTRAINT prescriptions_target_check CHECK (target BETWEEN 0 AND 1500);
