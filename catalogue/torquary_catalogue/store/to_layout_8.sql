-- Layout 8: settings know the number of their sheet, words stand in rows of their own (noted anew by put_words);
-- the record of the work on boards (work_entry.sql) is new.
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS number BIGINT;
UPDATE sheet SET number = n.number
FROM (SELECT digest, row_number() OVER (ORDER BY loaded_at, digest) AS number FROM sheet) AS n WHERE n.digest = sheet.digest;
ALTER TABLE setting ADD COLUMN IF NOT EXISTS sheet_number BIGINT;
ALTER TABLE setting ADD COLUMN IF NOT EXISTS said VARCHAR[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS maker_words VARCHAR;
ALTER TABLE setting ADD COLUMN IF NOT EXISTS series_words VARCHAR;
UPDATE setting SET sheet_number = s.number FROM sheet AS s WHERE s.digest = setting.sheet;
DROP TABLE IF EXISTS sheet_words;
