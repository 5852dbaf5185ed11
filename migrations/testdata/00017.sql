-- Rows for the column of 00017. Invented.
UPDATE clients SET sex = 'male' WHERE id = '00000000-0000-7000-8000-000000000012';
