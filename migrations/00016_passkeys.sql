-- +goose Up
-- A passkey: a second way in beside the passphrase, or instead of it.
CREATE TABLE passkeys (
    id            uuid        PRIMARY KEY,
    account_id    uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT,
    credential_id bytea       NOT NULL UNIQUE,  -- as the device names it
    credential    jsonb       NOT NULL,  -- public key, flags and count of uses, as the library keeps them
    name          text        NOT NULL CHECK (name <> ''),  -- of the device, as its owner calls it
    created_at    timestamptz NOT NULL,
    used_at       timestamptz,
    removed_at    timestamptz
);
CREATE INDEX passkeys_account ON passkeys (account_id) WHERE removed_at IS NULL;

-- What a device was asked to sign, until it has answered. Each is answered once.
CREATE TABLE passkey_challenges (
    challenge_hash text        PRIMARY KEY,
    account_id     uuid        REFERENCES accounts ON DELETE CASCADE,  -- whose new passkey; NULL for a sign-in
    data           jsonb       NOT NULL,  -- what the library needs to check the answer
    expires_at     timestamptz NOT NULL
);
CREATE INDEX passkey_challenges_expires_at ON passkey_challenges (expires_at);

-- +goose Down
DROP TABLE passkey_challenges, passkeys;
