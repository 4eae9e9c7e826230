-- Layout 7: what the names of a setting say, in the words that people ask with. The words are noted anew by name_says.
ALTER TABLE setting ADD COLUMN IF NOT EXISTS says VARCHAR[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS amps STRUCT(low DOUBLE, high DOUBLE)[];
