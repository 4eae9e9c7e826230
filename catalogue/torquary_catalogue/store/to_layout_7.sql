-- Layout 7: answers for many readings at once; driver bit, purpose and conditions are corrected as names are; what the
-- names of a setting say, in the words that people ask with (noted anew by name_says).
ALTER TABLE setting ADD COLUMN IF NOT EXISTS beside STRUCT(heading VARCHAR, text VARCHAR)[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS says VARCHAR[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS amps STRUCT(low DOUBLE, high DOUBLE)[];

ALTER TABLE name_given ADD COLUMN IF NOT EXISTS purpose VARCHAR;
ALTER TABLE name_given ADD COLUMN IF NOT EXISTS drive STRUCT(kind VARCHAR, size VARCHAR)[];
ALTER TABLE name_given ADD COLUMN IF NOT EXISTS conditions VARCHAR[];

-- Nothing but names was given before, so that the rest is as it was read.
ALTER TABLE name_read ADD COLUMN IF NOT EXISTS purpose VARCHAR;
ALTER TABLE name_read ADD COLUMN IF NOT EXISTS drive STRUCT(kind VARCHAR, size VARCHAR)[];
ALTER TABLE name_read ADD COLUMN IF NOT EXISTS conditions VARCHAR[];
ALTER TABLE name_read ADD COLUMN IF NOT EXISTS unit_printed VARCHAR;
ALTER TABLE name_read ADD COLUMN IF NOT EXISTS evidence STRUCT(field VARCHAR, printed VARCHAR, page INTEGER)[];
UPDATE name_read SET purpose = s.purpose, drive = s.drive, conditions = s.conditions,
    unit_printed = s.unit_printed, evidence = s.evidence
FROM setting AS s WHERE s.sheet = name_read.sheet AND s.id = name_read.setting;
