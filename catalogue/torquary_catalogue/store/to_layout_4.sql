-- Layout 4: the texts that speak for a figure, and the conditions it is under. What was read before has none until its
-- sheet is read anew.
ALTER TABLE setting ADD COLUMN IF NOT EXISTS scope STRUCT(kind VARCHAR, text VARCHAR, page INTEGER)[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS conditions VARCHAR[];
