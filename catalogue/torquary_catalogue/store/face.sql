CREATE TABLE IF NOT EXISTS sheet_face (
    sheet VARCHAR PRIMARY KEY,
    head VARCHAR[] NOT NULL,
    makers VARCHAR[] NOT NULL,
    texts VARCHAR[] NOT NULL,
    profiles VARCHAR NOT NULL,
    every_page BOOLEAN NOT NULL,
    unwitnessed BOOLEAN NOT NULL
);
COMMENT ON TABLE sheet_face IS 'What a sheet shows of its maker and headings, and how it was read: it tells which layout profiles are for it, and whether it has to be read anew when they change.';
COMMENT ON COLUMN sheet_face.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN sheet_face.head IS 'Lines at the head of the sheet, as printed.';
COMMENT ON COLUMN sheet_face.makers IS 'What is printed as the maker''s name.';
COMMENT ON COLUMN sheet_face.texts IS 'Texts that may be headings, folded, without units.';
COMMENT ON COLUMN sheet_face.profiles IS 'Digest of the layout profiles that were used; empty for none.';
COMMENT ON COLUMN sheet_face.every_page IS 'True if every page was read closely.';
COMMENT ON COLUMN sheet_face.unwitnessed IS 'True if figures were released that the picture of the page did not confirm, as wished.';
