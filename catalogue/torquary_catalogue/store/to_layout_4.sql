-- Layout 4: the texts that speak for a figure, and the conditions it is under. What was read before has none until its
-- sheet is read anew.
ALTER TABLE setting ADD COLUMN IF NOT EXISTS scope STRUCT(kind VARCHAR, text VARCHAR, page INTEGER)[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS conditions VARCHAR[];

-- What a sheet says of itself: its product, document number and the date of its edition.
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS product VARCHAR;
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS document_number VARCHAR;
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS edition_date VARCHAR;
