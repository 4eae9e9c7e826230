CREATE TABLE IF NOT EXISTS decision_record (
    number INTEGER NOT NULL,
    kind VARCHAR NOT NULL,
    sheet VARCHAR NOT NULL,
    setting VARCHAR,
    other VARCHAR,
    undoes INTEGER,
    carried_from INTEGER,
    decided_at TIMESTAMP NOT NULL,
    who VARCHAR NOT NULL,
    why VARCHAR NOT NULL,
    before VARCHAR NOT NULL,
    after VARCHAR NOT NULL,
    undone_by INTEGER
);
COMMENT ON TABLE decision_record IS 'All that was decided about sheets and their settings, one row each, in the order in which it was. Rows are only ever added; a decision that is undone stays, and says by which decision.';
COMMENT ON COLUMN decision_record.number IS 'Number of the decision, from 1; torquary decisions --undo takes it.';
COMMENT ON COLUMN decision_record.kind IS 'About a setting: accept, correct, reject, reopen, add. About many of them at once: answer. About a sheet: identity (its maker, number, edition and the like corrected), supersede (other takes its place), beside (it and other both stay in force), withdraw, restore. undo takes back the decision undoes.';
COMMENT ON COLUMN decision_record.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN decision_record.setting IS 'Setting decided (setting.id), under the id of its last reading; NULL: the sheet as a whole.';
COMMENT ON COLUMN decision_record.other IS 'Digest of the other sheet of supersede and beside.';
COMMENT ON COLUMN decision_record.undoes IS 'Number of the decision that an undo takes back.';
COMMENT ON COLUMN decision_record.carried_from IS 'Number of the decision about the same print of an earlier edition that this one was carried over from.';
COMMENT ON COLUMN decision_record.decided_at IS 'When, UTC.';
COMMENT ON COLUMN decision_record.who IS 'Who decided; torquary where the sheets themselves show it.';
COMMENT ON COLUMN decision_record.why IS 'The reason given.';
COMMENT ON COLUMN decision_record.before IS 'What was in force before, in words.';
COMMENT ON COLUMN decision_record.after IS 'What is in force by it, in words.';
COMMENT ON COLUMN decision_record.undone_by IS 'Number of the decision that took it back; NULL: it stands.';

CREATE TABLE IF NOT EXISTS sheet_given (
    number INTEGER NOT NULL,
    file VARCHAR,
    title VARCHAR,
    maker VARCHAR,
    document_number VARCHAR,
    edition VARCHAR,
    edition_date VARCHAR
);
COMMENT ON TABLE sheet_given IS 'What people said a sheet is, by the decision of kind identity of the same number. The last one that stands holds for each column; the table sheet shows it, and keeps what was read (sheet.as_read).';
COMMENT ON COLUMN sheet_given.number IS 'Number of the decision (decision_record.number).';
COMMENT ON COLUMN sheet_given.file IS 'File name under which the sheet is to be shown; NULL: not given, here and in the other columns.';
COMMENT ON COLUMN sheet_given.title IS 'Title of the sheet.';
COMMENT ON COLUMN sheet_given.maker IS 'Maker of the sheet.';
COMMENT ON COLUMN sheet_given.document_number IS 'Number of the document.';
COMMENT ON COLUMN sheet_given.edition IS 'Edition, as it is printed.';
COMMENT ON COLUMN sheet_given.edition_date IS 'Date of the edition: 2024, 2024-05 or 2024-05-17.';

CREATE TABLE IF NOT EXISTS sheet_name (
    sheet VARCHAR NOT NULL,
    folder VARCHAR NOT NULL,
    file VARCHAR NOT NULL,
    first_loaded TIMESTAMP NOT NULL,
    last_loaded TIMESTAMP NOT NULL
);
COMMENT ON TABLE sheet_name IS 'Where the content of a sheet was loaded from: several copies of one content are one sheet with several names.';
COMMENT ON COLUMN sheet_name.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN sheet_name.folder IS 'Folder that the file was in, as the computer that loaded it names it.';
COMMENT ON COLUMN sheet_name.file IS 'Name of the file.';
COMMENT ON COLUMN sheet_name.first_loaded IS 'When it was first loaded from there, UTC.';
COMMENT ON COLUMN sheet_name.last_loaded IS 'When it was last loaded from there, UTC: the first time on that day, so that loading again changes nothing.';

CREATE TABLE IF NOT EXISTS row_added (
    number INTEGER NOT NULL,
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    setting_row VARCHAR NOT NULL
);
COMMENT ON TABLE row_added IS 'Rows of a sheet that the reader missed, or of a file that it could not read, and that a person added, by the decision of kind add of the same number.';
COMMENT ON COLUMN row_added.number IS 'Number of the decision (decision_record.number).';
COMMENT ON COLUMN row_added.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN row_added.setting IS 'Id that the row has in the table setting while its decision stands.';
COMMENT ON COLUMN row_added.setting_row IS 'The row, as JSON under the names of the columns of setting.';

CREATE TABLE IF NOT EXISTS name_read (
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    device_printed VARCHAR NOT NULL,
    family VARCHAR,
    missing STRUCT(field VARCHAR, looked VARCHAR)[] NOT NULL,
    terminal_printed VARCHAR NOT NULL,
    roles VARCHAR[] NOT NULL,
    any_terminal BOOLEAN NOT NULL,
    conductor_printed VARCHAR NOT NULL,
    system VARCHAR,
    min_mm2 DECIMAL(38, 24),
    max_mm2 DECIMAL(38, 24),
    min_awg VARCHAR,
    max_awg VARCHAR,
    material VARCHAR[] NOT NULL,
    stranding VARCHAR[] NOT NULL,
    ferrule BOOLEAN,
    conductor_count INTEGER,
    purpose VARCHAR,
    drive STRUCT(kind VARCHAR, size VARCHAR)[],
    conditions VARCHAR[],
    unit_printed VARCHAR,
    evidence STRUCT(field VARCHAR, printed VARCHAR, page INTEGER)[]
);
COMMENT ON TABLE name_read IS 'Device, terminal, conductor and the like as read, of the settings that show what a person gave in their place (name_given, answer). Columns as in setting.';
COMMENT ON COLUMN name_read.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN name_read.setting IS 'Setting concerned (setting.id).';

CREATE TABLE IF NOT EXISTS given_out (
    number INTEGER NOT NULL,
    kind VARCHAR NOT NULL,
    given_at TIMESTAMP NOT NULL,
    who VARCHAR NOT NULL,
    what_for VARCHAR NOT NULL,
    question VARCHAR NOT NULL,
    answer VARCHAR NOT NULL
);
COMMENT ON TABLE given_out IS 'What was given out of the catalogue: an answer noted for a job, an export, a page for the pocket, the plan of the work on a board, the record of that work. Rows are only ever added.';
COMMENT ON COLUMN given_out.number IS 'Number of what was given out, from 1.';
COMMENT ON COLUMN given_out.kind IS 'note (torquary find --note), export (torquary export), plan (torquary plan), pocket (torquary pocket) or work (torquary board).';
COMMENT ON COLUMN given_out.given_at IS 'When, UTC.';
COMMENT ON COLUMN given_out.who IS 'Who asked: the user of the computer.';
COMMENT ON COLUMN given_out.what_for IS 'What it was for, as typed; of an export or a page the name of the file, of a plan or work the board and the day.';
COMMENT ON COLUMN given_out.question IS 'The question as a command, of a page what was chosen for it; empty for all else.';
COMMENT ON COLUMN given_out.answer IS 'Kind of the answer: one, agree, differ, outside, held or unknown; of an export its format, of a page how long it is good for, of a plan or work how many terminals.';

CREATE TABLE IF NOT EXISTS given_figure (
    number INTEGER NOT NULL,
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    min_nm DECIMAL(38, 24),
    nominal_nm DECIMAL(38, 24),
    max_nm DECIMAL(38, 24),
    limit_nm DECIMAL(38, 24),
    read_otherwise BOOLEAN
);
COMMENT ON TABLE given_figure IS 'The released figures in what was given out, as they were then.';
COMMENT ON COLUMN given_figure.number IS 'Number of what was given out (given_out.number).';
COMMENT ON COLUMN given_figure.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN given_figure.setting IS 'Setting that was given out (setting.id), under the id of the last reading of its print.';
COMMENT ON COLUMN given_figure.read_otherwise IS 'True: the print was read otherwise since; NULL: as it was.';
