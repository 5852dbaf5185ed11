-- +goose Up
-- How an account reads: its language (BCP 47) and its unit of distance.
ALTER TABLE accounts
    ADD COLUMN language text NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'es')),
    ADD COLUMN units    text NOT NULL DEFAULT 'km' CHECK (units IN ('km', 'miles'));

-- +goose Down
ALTER TABLE accounts DROP COLUMN language, DROP COLUMN units;
