-- Rows for the tables of 00020. Invented.
INSERT INTO referral_reminders (id, referral_id, day, note, at, by)
VALUES ('00000000-0000-7000-8000-0000000000a1', '00000000-0000-7000-8000-000000000091', '2026-01-12', 'By phone.', '2026-01-12 09:00Z', '00000000-0000-7000-8000-000000000002');
