-- Rows for the columns of 00022. Invented.
UPDATE accounts SET title = 'Physiotherapist', registration = 'PT 1234' WHERE id = '00000000-0000-7000-8000-000000000002';
