CREATE TABLE IF NOT EXISTS sheet_words (sheet VARCHAR NOT NULL, all_words VARCHAR NOT NULL);
COMMENT ON TABLE sheet_words IS 'The words of each sheet, so that a question looks only into sheets that may answer it.';
COMMENT ON COLUMN sheet_words.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN sheet_words.all_words IS 'Every word of all_words of its settings, once.';
