-- Rows for the tables of 00009. Invented.
INSERT INTO referrals (id, client_id, created_at, created_by)
VALUES ('00000000-0000-7000-8000-000000000091', '00000000-0000-7000-8000-000000000011', '2026-01-06 09:00Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO referral_versions (referral_id, version, letter, saved_at, saved_by) VALUES
    ('00000000-0000-7000-8000-000000000091', 1, '{"doctor": "Dr Invented"}', '2026-01-06 09:00Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000000091', 2, '{"doctor": "Dr Una Invented"}', '2026-01-06 09:10Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO referral_events (id, referral_id, status, day, channel, note, at, by) VALUES
    ('00000000-0000-7000-8000-000000000092', '00000000-0000-7000-8000-000000000091', 'draft', '2026-01-06', '', '', '2026-01-06 09:00Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000000093', '00000000-0000-7000-8000-000000000091', 'sent', '2026-01-06', 'post', '', '2026-01-06 09:20Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000000094', '00000000-0000-7000-8000-000000000091', 'answered', '2026-01-15', '', '', '2026-01-15 09:20Z', NULL);

INSERT INTO clearances (id, client_id, referral_id, doctor_name, profession, specialist, registration, organisation, contact, treats_client, may_clear,
    decided_on, received_on, channel, outcome, ceiling, limits, supervised_only, unsupervised, restrictions, expected, work, activity, considered,
    valid_from, valid_until, phase_ii, supersedes, note, recorded_at, recorded_by) VALUES
    ('00000000-0000-7000-8000-000000000095', '00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000000091',
        'Una Invented', 'physician', false, 'L 1', 'Invented Surgery', '+00 0000 0103', false, false, '2026-01-14', '2026-01-15', 'phone', 'cleared', 'vigorous',
        '{}', false, false, '[]', '[]', 'both', '', '{diabetes_type_2}', NULL, NULL, false, NULL, '', '2026-01-15 10:00Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000000096', '00000000-0000-7000-8000-000000000011', NULL,
        'Una Invented', 'physician', true, 'L 1', 'Invented Surgery', '+00 0000 0103', false, false, '2026-02-14', '2026-02-15', 'letter', 'cleared_with_limits', 'moderate',
        '{"heart_rate": 130}', true, false, '[{"code": "", "says": "No swimming", "until": "2026-06-01"}]', '[]', 'aerobic', '', '{}', '2026-02-16', '2026-08-16', false,
        '00000000-0000-7000-8000-000000000095', 'By post.', '2026-02-15 10:00Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO clearance_events (id, clearance_id, kind, day, reason, at, by)
VALUES ('00000000-0000-7000-8000-000000000097', '00000000-0000-7000-8000-000000000095', 'confirmed', '2026-01-20', 'The paper came.', '2026-01-20 10:00Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO clearance_documents (id, clearance_id, name, content_type, size, sha256, body, at, by)
VALUES ('00000000-0000-7000-8000-000000000098', '00000000-0000-7000-8000-000000000095', 'answer.pdf', 'application/pdf', 4, sha256('%PDF'), '%PDF', '2026-01-20 10:00Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO doctor_links (token_hash, referral_id, created_at, created_by, expires_at, tries, answered_at, answer, settled_at, settled_by, clearance_id)
VALUES ('0095', '00000000-0000-7000-8000-000000000091', '2026-01-06 09:20Z', '00000000-0000-7000-8000-000000000002', '2026-02-05 09:20Z', 1,
    '2026-01-15 09:20Z', '{"outcome": "cleared"}', '2026-01-15 10:00Z', '00000000-0000-7000-8000-000000000002', '00000000-0000-7000-8000-000000000095');

INSERT INTO clearing_practitioners (id, account_id, licence, at, by)
VALUES ('00000000-0000-7000-8000-000000000099', '00000000-0000-7000-8000-000000000002', 'L 2', '2026-01-20 10:00Z', '00000000-0000-7000-8000-000000000001');

UPDATE holds SET released_decision = '00000000-0000-7000-8000-000000000095', resolved_on = '2026-01-10',
    resolved_by = '00000000-0000-7000-8000-000000000002', resolved_reason = 'Treated, says the hospital.'
WHERE id = '00000000-0000-7000-8000-000000000032';
