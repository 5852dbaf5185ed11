-- Rows for the tables of 00010. Invented.
INSERT INTO intake_saves (id, client_id, version, before, after, saved_at, saved_by)
VALUES ('00000000-0000-7000-8000-000000001001', '00000000-0000-7000-8000-000000000012', 3, '{"resting_hr": ""}', '{"resting_hr": "7"}',
    '2026-01-05 11:05Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO consents (id, client_id, kind, recipient, purpose, what, text_version, given_on, expires_on, recorded_at, recorded_by,
    withdrawn_on, withdrawn_at, withdrawn_by, withdrawn_why) VALUES
    ('00000000-0000-7000-8000-000000001002', '00000000-0000-7000-8000-000000000011', 'care', '', 'Exercise with us', 'Screening, plan, log', '1',
        '2026-01-05', NULL, '2026-01-05 10:05Z', '00000000-0000-7000-8000-000000000002', NULL, NULL, NULL, ''),
    ('00000000-0000-7000-8000-000000001003', '00000000-0000-7000-8000-000000000011', 'share', 'Dr Ö. Invented', 'To ask for guidance', 'Symptoms',
        '1', '2026-01-05', '2027-01-05', '2026-01-05 10:06Z', '00000000-0000-7000-8000-000000000002', '2026-02-01', '2026-02-01 09:00Z',
        '00000000-0000-7000-8000-000000000002', 'Another doctor now');

INSERT INTO client_revisions (id, client_id, before, replaced_at, replaced_by)
VALUES ('00000000-0000-7000-8000-000000001004', '00000000-0000-7000-8000-000000000011', '{"phone": "+00 0000 0100"}', '2026-01-06 10:00Z',
    '00000000-0000-7000-8000-000000000002');

INSERT INTO health_changes (id, client_id, kind, day, note, heart_rate, glucose, recorded_at, recorded_by)
VALUES ('00000000-0000-7000-8000-000000001005', '00000000-0000-7000-8000-000000000011', 'medicine_change', '2026-01-15', 'atenolol 25 mg', true, false,
    '2026-01-16 10:00Z', '00000000-0000-7000-8000-000000000002');
