-- Rows for the tables of 00016. Invented.
INSERT INTO passkeys (id, account_id, credential_id, credential, name, created_at, used_at, removed_at)
VALUES ('00000000-0000-7000-8000-000000000071', '00000000-0000-7000-8000-000000000002', '\x0102', '{"id": "AQI="}', 'My phone',
    '2026-02-03 08:00Z', NULL, NULL);

INSERT INTO passkey_challenges (challenge_hash, account_id, data, expires_at)
VALUES ('dd44', NULL, '{}', '2026-02-03 08:05Z');
