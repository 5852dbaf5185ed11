-- Rows for the tables of 00001, to be kept by all later migrations. Invented.
INSERT INTO practice (name, zone, week_start, emergency_number, phone, created_at)
VALUES ('Practice at the Ford', 'Europe/Dublin', 1, '112', '+00 0000 0100', '2026-01-05 09:00Z');

INSERT INTO accounts (id, role, name, sign_in_name, password_hash, disabled_at, failed_tries, failed_at, created_at) VALUES
    ('00000000-0000-7000-8000-000000000001', 'lead', 'Una Invented', 'una@practice.example', '$argon2id$x', NULL, 0, NULL, '2026-01-05 09:01Z'),
    ('00000000-0000-7000-8000-000000000002', 'practitioner', 'Pat Invented', 'pat@practice.example', '$argon2id$y', NULL, 2, '2026-01-06 08:00Z', '2026-01-05 09:02Z'),
    ('00000000-0000-7000-8000-000000000003', 'client', 'Åse O''Invented', 'åse', NULL, '2026-03-01 00:00Z', 0, NULL, '2026-01-05 09:03Z');

INSERT INTO sign_ins (token_hash, data, expires_at)
VALUES ('aa11', '\x00ff', '2026-01-06 09:00Z');

INSERT INTO join_links (token_hash, account_id, created_at, expires_at, used_at) VALUES
    ('bb22', NULL, '2026-01-05 09:00Z', '2026-01-06 09:00Z', '2026-01-05 09:01Z'),
    ('cc33', '00000000-0000-7000-8000-000000000003', '2026-01-05 09:03Z', '2026-01-12 09:03Z', NULL);

INSERT INTO audit (at, actor_id, action, client_id, subject, detail) VALUES
    ('2026-01-05 09:00Z', NULL, 'practice.set_up', NULL, 'practice', '{}'),
    ('2026-01-05 09:03Z', '00000000-0000-7000-8000-000000000001', 'account.invite', NULL,
        'account/00000000-0000-7000-8000-000000000003', '{"role": "client"}');
