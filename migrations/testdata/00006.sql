-- Rows for the tables of 00006. Invented.
UPDATE sessions SET version = 2, phone_at = '2026-01-07 16:58Z' WHERE id = '00000000-0000-7000-8000-000000000051';

INSERT INTO session_reports (session_id, report) VALUES
    ('00000000-0000-7000-8000-000000000051', 'dizzy_in_effort'),
    ('00000000-0000-7000-8000-000000000051', 'blister');

INSERT INTO session_revisions (session_id, version, body, change, reason, replaced_at, replaced_by)
VALUES ('00000000-0000-7000-8000-000000000051', 1, '{"day": "2026-01-07", "note": "Windy", "parts": [], "reports": []}', 'edit',
    'Typed too fast.', '2026-01-07 17:05Z', '00000000-0000-7000-8000-000000000003');

INSERT INTO triages (id, client_id, session_id, session_version, day, reports, note, body_hash, level, hold, rules, rule_set, input, assessment, at, by) VALUES
    ('00000000-0000-7000-8000-000000000071', '00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000000051', 2, '2026-01-07',
     '{dizzy_in_effort,blister}', '', NULL, 'stop', 'all', '{T05,T40}', '2026-01', '{}', '{}', '2026-01-07 17:05Z', '00000000-0000-7000-8000-000000000003'),
    ('00000000-0000-7000-8000-000000000072', '00000000-0000-7000-8000-000000000011', NULL, NULL, '2026-01-08',
     '{}', 'Shaky since the morning – better now.', decode(repeat('1e', 32), 'hex'), 'note', 'none', '{T42}', '2026-01', '{}', '{}', '2026-01-08 09:00Z',
     '00000000-0000-7000-8000-000000000003');

INSERT INTO flags (id, client_id, kind, subject, urgency, due, cause, rule, text, action, href, opened_at, opened_by, done_at, done_by, done_reason) VALUES
    ('00000000-0000-7000-8000-000000000081', '00000000-0000-7000-8000-000000000011', 'triage', 'session/00000000-0000-7000-8000-000000000051', 3, '2026-01-08',
     'dizzy_in_effort', 'T05', 'Dizzy in effort.', 'Speak to the client.', '/clients', '2026-01-07 17:05Z', '00000000-0000-7000-8000-000000000003',
     '2026-01-08 08:00Z', '00000000-0000-7000-8000-000000000001', 'Spoken to.'),
    ('00000000-0000-7000-8000-000000000082', '00000000-0000-7000-8000-000000000011', 'triage', 'triage/00000000-0000-7000-8000-000000000072', 1, NULL,
     'other', 'T42', 'Something else.', 'Read it.', '/clients', '2026-01-08 09:00Z', NULL, NULL, NULL, '');

INSERT INTO late_questions (client_id, session_id, ended_at, answered_at, triage_id)
VALUES ('00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000000051', '2026-01-07 16:58Z', '2026-01-08 09:00Z', '00000000-0000-7000-8000-000000000072');
