-- Rows for the tables of 00008. Invented.
INSERT INTO reminders (account_id, client_id, address, days, minute, confirm_hash, confirm_by, confirmed_at, asked_on, asked, last_day, tried_on, tries, next_try)
VALUES ('00000000-0000-7000-8000-000000000003', '00000000-0000-7000-8000-000000000011', 'åse@post.example', 42, 1110, NULL, NULL, '2026-01-07 09:00Z',
    '2026-01-07', 1, '2026-01-08', '2026-01-09', 1, '2026-01-09 18:40Z');

INSERT INTO reminder_links (token_hash, account_id, made_at)
VALUES ('ee55', '00000000-0000-7000-8000-000000000003', '2026-01-09 18:30Z');

INSERT INTO calendar_feeds (client_id, token_hash, made_at)
VALUES ('00000000-0000-7000-8000-000000000011', 'ff66', '2026-01-07 09:10Z');

INSERT INTO calendar_events (id, client_id, day, n, minutes, sequence, cancelled, changed_at) VALUES
    ('00000000-0000-7000-8000-000000000091', '00000000-0000-7000-8000-000000000011', '2026-01-09', 1, 30, 0, false, '2026-01-07 09:11Z'),
    ('00000000-0000-7000-8000-000000000092', '00000000-0000-7000-8000-000000000011', '2026-01-10', 1, 25, 2, true, '2026-01-08 09:11Z');
