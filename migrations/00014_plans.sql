-- +goose Up
-- A plan is signed once and superseded by the next version, not changed. A new
-- version holds the weeks that are over as they were planned, so the newest
-- tells all weeks.
CREATE TABLE plans (
    id        uuid        PRIMARY KEY,
    client_id uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    version   integer     NOT NULL CHECK (version > 0),
    preset    text        NOT NULL,  -- code of the published programme it began as; '' if none
    goal      smallint    NOT NULL CHECK (goal BETWEEN 1 AND 3000),  -- moderate-equivalent minutes a week
    behind    smallint    NOT NULL CHECK (behind >= 0),  -- weeks of the programme that were over before its first week
    changed   date        NOT NULL,  -- first week that differs from the version before
    origin    text        NOT NULL CHECK (origin IN ('editor', 'copy', 'again', 'step', 'restart')),
    reason    text        NOT NULL,  -- of the practitioner, may be empty
    ceiling   text        NOT NULL CHECK (ceiling IN ('very_light', 'light', 'moderate', 'vigorous', 'near_maximal')),  -- when it was signed
    warnings  jsonb       NOT NULL,  -- that the practitioner signed in spite of
    rule_set  text        NOT NULL CHECK (rule_set <> ''),
    signed_at timestamptz NOT NULL,
    signed_by uuid        NOT NULL REFERENCES accounts,
    UNIQUE (client_id, version)
);
CREATE TRIGGER plans_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON plans
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE plan_weeks (
    plan_id      uuid     NOT NULL REFERENCES plans ON DELETE RESTRICT,
    week         date     NOT NULL,  -- its first day
    class        text     NOT NULL CHECK (class IN ('light', 'moderate', 'vigorous')),
    sessions     smallint NOT NULL CHECK (sessions >= 1),
    minutes      smallint NOT NULL CHECK (minutes >= 1),  -- of each session; of the longest where they differ
    easy         smallint NOT NULL CHECK (easy >= 0),     -- of these, warm-up and cool-down
    within       smallint NOT NULL CHECK (within >= 0),   -- vigorous minutes a week within sessions of an easier class
    light        smallint NOT NULL CHECK (light >= 0),    -- minutes of the whole week
    moderate     smallint NOT NULL CHECK (moderate >= 0),
    vigorous     smallint NOT NULL CHECK (vigorous >= 0),
    target       smallint NOT NULL CHECK (target >= 0),
    target_light boolean  NOT NULL,  -- light minutes count towards the target, each once
    PRIMARY KEY (plan_id, week)
);
CREATE TRIGGER plan_weeks_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON plan_weeks
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A stretch of days in which the plan waits. It is ended, never deleted.
CREATE TABLE pauses (
    id         uuid        PRIMARY KEY,
    client_id  uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    kind       text        NOT NULL CHECK (kind IN ('holiday', 'illness', 'injury', 'hospital', 'new_medicine', 'other')),
    from_day   date        NOT NULL,
    to_day     date        CHECK (to_day >= from_day),  -- as expected; NULL while nobody knows
    note       text        NOT NULL,
    entered_at timestamptz NOT NULL,
    entered_by uuid        NOT NULL REFERENCES accounts,
    last_day   date,       -- as it turned out; the day before the first where it never began
    ended_at   timestamptz,
    ended_by   uuid        REFERENCES accounts,
    CHECK ((ended_at IS NULL) = (ended_by IS NULL) AND (ended_at IS NULL) = (last_day IS NULL))
);
CREATE INDEX pauses_client ON pauses (client_id, from_day DESC);

-- What the rules suggested in a week, and what the practitioner answered.
CREATE TABLE progress_steps (
    id              uuid        PRIMARY KEY,  -- made with the form: sent twice, it is stored once
    client_id       uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    week            date        NOT NULL,
    plan_id         uuid        REFERENCES plans ON DELETE RESTRICT,  -- in force when it was suggested; NULL without a plan
    status          text        NOT NULL CHECK (status <> ''),
    reasons         jsonb       NOT NULL,
    suggestion      jsonb       NOT NULL,  -- the step with its reasons
    rule_set        text        NOT NULL CHECK (rule_set <> ''),
    answer          text        NOT NULL CHECK (answer IN ('accepted', 'changed', 'declined')),
    word            text        NOT NULL,  -- why; not empty unless accepted as suggested
    new_plan_id     uuid        REFERENCES plans ON DELETE RESTRICT,
    prescription_id uuid        REFERENCES prescriptions ON DELETE RESTRICT,  -- signed with it; NULL if that was not needed
    decided_at      timestamptz NOT NULL,
    decided_by      uuid        NOT NULL REFERENCES accounts,
    CHECK (answer = 'accepted' OR word <> ''),
    CHECK ((answer = 'declined') = (new_plan_id IS NULL))
);
CREATE INDEX progress_steps_client ON progress_steps (client_id, decided_at DESC);
CREATE TRIGGER progress_steps_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON progress_steps
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE progress_steps, pauses, plan_weeks, plans;
