CREATE TABLE IF NOT EXISTS picture (sheet VARCHAR NOT NULL, setting VARCHAR NOT NULL, png BLOB NOT NULL, PRIMARY KEY (sheet, setting));
COMMENT ON TABLE picture IS 'The printed row of a setting with its torque cell outlined, as PNG. Settings of sheets without pages (CSV, workbooks, web pages) have none.';
COMMENT ON COLUMN picture.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN picture.setting IS 'Id of the setting (setting.id).';
COMMENT ON COLUMN picture.png IS 'The picture, sixteen colours, 108 dpi.';
