-- +goose Up
-- Who signs, as it stands under what they sign: a title and a registration number beside
-- the name. It is kept with the signature, so that a later name or title rewrites none.
ALTER TABLE accounts ADD COLUMN title text NOT NULL DEFAULT '';
ALTER TABLE accounts ADD COLUMN registration text NOT NULL DEFAULT '';
ALTER TABLE prescriptions ADD COLUMN signature text NOT NULL DEFAULT ''; -- empty: from before, the name alone
ALTER TABLE plans ADD COLUMN signature text NOT NULL DEFAULT '';
ALTER TABLE reports ADD COLUMN signature text NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE reports DROP COLUMN signature;
ALTER TABLE plans DROP COLUMN signature;
ALTER TABLE prescriptions DROP COLUMN signature;
ALTER TABLE accounts DROP COLUMN registration;
ALTER TABLE accounts DROP COLUMN title;
