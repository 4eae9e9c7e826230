-- Tables of a catalogue. A newer shape of any of them needs a step (layout.py); what is no table is said anew with it.
CREATE TABLE catalogue_format (version INTEGER NOT NULL, made_by VARCHAR NOT NULL, made_at TIMESTAMP NOT NULL, words VARCHAR);
COMMENT ON TABLE catalogue_format IS 'One row: the version of these tables, and the program that made the file.';
COMMENT ON COLUMN catalogue_format.version IS 'Number of the table layout; a program refuses a number above its own.';
COMMENT ON COLUMN catalogue_format.made_by IS 'Name and version of the program that made the file.';
COMMENT ON COLUMN catalogue_format.made_at IS 'When the file was made, UTC.';
COMMENT ON COLUMN catalogue_format.words IS 'Digest of what the words of known_word were made from, and of the words; NULL: none yet.';

CREATE TABLE known_word (kind VARCHAR NOT NULL, concept VARCHAR NOT NULL, spelling VARCHAR NOT NULL, fit VARCHAR NOT NULL);
COMMENT ON TABLE known_word IS 'Words that people may ask with, in many languages, and the vocabulary key each stands for.';
COMMENT ON COLUMN known_word.kind IS 'family, role, material, stranding, ferrule, part, purpose or wish (what asks for nothing to be looked for).';
COMMENT ON COLUMN known_word.concept IS 'Vocabulary key.';
COMMENT ON COLUMN known_word.spelling IS 'fold_text of the word or words.';
COMMENT ON COLUMN known_word.fit IS 'How a word asked must meet the spelling: whole, starts, ends, contains; marking: whole, a terminal marking.';

CREATE TABLE sheet (
    digest VARCHAR PRIMARY KEY,
    file VARCHAR NOT NULL,
    state VARCHAR NOT NULL CHECK (state IN ('read', 'refused', 'superseded', 'withdrawn')),
    title VARCHAR NOT NULL,
    maker VARCHAR NOT NULL,
    edition VARCHAR NOT NULL,
    pages INTEGER NOT NULL,
    loaded_at TIMESTAMP NOT NULL,
    superseded_by VARCHAR,
    superseded_why VARCHAR,
    reader INTEGER,
    product VARCHAR,
    document_number VARCHAR,
    edition_date VARCHAR,
    as_read STRUCT(file VARCHAR, title VARCHAR, maker VARCHAR, document_number VARCHAR, edition VARCHAR, edition_date VARCHAR),
    number BIGINT
);
COMMENT ON TABLE sheet IS 'Datasheets loaded, one row for each file content. What a person corrected of a sheet is shown here; what was read is in as_read.';
COMMENT ON COLUMN sheet.digest IS 'SHA-256 of the file''s bytes, in hex.';
COMMENT ON COLUMN sheet.file IS 'File name without its folder, the first one that the content was loaded under; all of them are in sheet_name.';
COMMENT ON COLUMN sheet.state IS 'read (in force); refused (could not be read, see finding; with rows that people added to it, it is in force as others are); superseded (another sheet replaced it); withdrawn (by a person). Which of them follows from decision_record.';
COMMENT ON COLUMN sheet.title IS 'Title as printed; empty if none was found.';
COMMENT ON COLUMN sheet.maker IS 'Maker as printed; empty if none was found.';
COMMENT ON COLUMN sheet.edition IS 'Edition or date as printed; empty if none was found.';
COMMENT ON COLUMN sheet.product IS 'Name of the product that the sheet is about, as printed; empty if none or several are named, NULL: read by an earlier version.';
COMMENT ON COLUMN sheet.document_number IS 'Number of the document as printed; empty if none was found, NULL: read by an earlier version.';
COMMENT ON COLUMN sheet.edition_date IS 'Date of the edition, year first, as far as it is certain (2024-05); empty if none was found, NULL: read by an earlier version.';
COMMENT ON COLUMN sheet.pages IS 'Number of pages of the file.';
COMMENT ON COLUMN sheet.loaded_at IS 'When the sheet was loaded, UTC.';
COMMENT ON COLUMN sheet.superseded_by IS 'Digest of the sheet that replaced this one; NULL while it is current.';
COMMENT ON COLUMN sheet.superseded_why IS 'edition (the other is a later edition of this sheet), person (a person said so); NULL: current, or put out of force by an earlier version for its file name alone.';
COMMENT ON COLUMN sheet.as_read IS 'What was read of the sheet, before any correction.';
COMMENT ON COLUMN sheet.number IS 'Counts the sheets as they are written; one that is read anew gets the next number, so that what lies together is read together.';
COMMENT ON COLUMN sheet.reader IS 'Version of the reader that read the sheet; 0: none could, and its settings are rows that people added; NULL: read before versions were kept. A sheet of an earlier reader is read anew when its file is loaded.';

CREATE TABLE setting (
    sheet VARCHAR NOT NULL,
    number INTEGER NOT NULL,
    id VARCHAR NOT NULL,
    state VARCHAR NOT NULL CHECK (state IN ('released', 'held', 'rejected', 'superseded')),
    purpose VARCHAR NOT NULL,
    device_printed VARCHAR NOT NULL,
    maker VARCHAR,
    family VARCHAR,
    series VARCHAR,
    model VARCHAR,
    rated_current VARCHAR,
    terminal_printed VARCHAR NOT NULL,
    roles VARCHAR[] NOT NULL,
    any_terminal BOOLEAN NOT NULL,
    clamp VARCHAR,
    thread VARCHAR,
    drive STRUCT(kind VARCHAR, size VARCHAR)[] NOT NULL,
    conductor_printed VARCHAR NOT NULL,
    system VARCHAR CHECK (system IN ('mm2', 'awg', 'kcmil', 'diameter')),
    min_mm2 DECIMAL(38, 24),
    max_mm2 DECIMAL(38, 24),
    min_awg VARCHAR,
    max_awg VARCHAR,
    material VARCHAR[] NOT NULL,
    stranding VARCHAR[] NOT NULL,
    ferrule BOOLEAN,
    conductor_count INTEGER,
    torque_printed VARCHAR,
    unit_printed VARCHAR,
    min_nm DECIMAL(38, 24),
    nominal_nm DECIMAL(38, 24),
    max_nm DECIMAL(38, 24),
    limit_nm DECIMAL(38, 24),
    read_min_nm DECIMAL(38, 24),
    read_nominal_nm DECIMAL(38, 24),
    read_max_nm DECIMAL(38, 24),
    read_limit_nm DECIMAL(38, 24),
    page INTEGER,
    table_number INTEGER,
    row_number INTEGER,
    column_number INTEGER,
    box DOUBLE[],
    place_text VARCHAR NOT NULL,
    evidence STRUCT(field VARCHAR, printed VARCHAR, page INTEGER)[] NOT NULL,
    missing STRUCT(field VARCHAR, looked VARCHAR)[] NOT NULL,
    min_gauge DOUBLE,
    max_gauge DOUBLE,
    device_words VARCHAR NOT NULL,
    terminal_words VARCHAR NOT NULL,
    all_words VARCHAR NOT NULL,
    scope STRUCT(kind VARCHAR, text VARCHAR, page INTEGER)[],
    conditions VARCHAR[],
    read_state VARCHAR,
    beside STRUCT(heading VARCHAR, text VARCHAR)[],
    says VARCHAR[],
    amps STRUCT(low DOUBLE, high DOUBLE)[],
    sheet_number BIGINT,
    said VARCHAR[],
    maker_words VARCHAR,
    series_words VARCHAR,
    PRIMARY KEY (sheet, id),
    -- No question put to this table can meet a figure that was not released.
    CHECK (state = 'released' OR (min_nm IS NULL AND nominal_nm IS NULL AND max_nm IS NULL AND limit_nm IS NULL))
);
COMMENT ON TABLE setting IS 'One terminal, one conductor range, one tightening torque. The figures min_nm, nominal_nm, max_nm and limit_nm are there only for released settings. Ask through find_setting.';
COMMENT ON COLUMN setting.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN setting.number IS 'Order on the sheet, from 1.';
COMMENT ON COLUMN setting.id IS 'Digest of what is printed and where; the same for the same sheet read again.';
COMMENT ON COLUMN setting.state IS 'released; held (doubtful: waits for a person, see finding); rejected (by a person); superseded (the sheet is out of force: replaced or withdrawn).';
COMMENT ON COLUMN setting.purpose IS 'electrical_terminal, mounting, enclosure, gland or other. Only electrical_terminal answers a terminal question.';
COMMENT ON COLUMN setting.device_printed IS 'Device as printed.';
COMMENT ON COLUMN setting.maker IS 'Maker; NULL: see sheet.maker.';
COMMENT ON COLUMN setting.family IS 'Device family, vocabulary key.';
COMMENT ON COLUMN setting.series IS 'Series as printed.';
COMMENT ON COLUMN setting.model IS 'Type or article as printed.';
COMMENT ON COLUMN setting.rated_current IS 'Rated current in amperes, as printed.';
COMMENT ON COLUMN setting.terminal_printed IS 'Terminal label as printed.';
COMMENT ON COLUMN setting.roles IS 'Roles of the terminal, vocabulary keys in the order printed: a side and a conductor, or several conductors that share the figure; empty: not known.';
COMMENT ON COLUMN setting.any_terminal IS 'True where the sheet says only "terminal", so that the figure is for every terminal of the device.';
COMMENT ON COLUMN setting.clamp IS 'Kind of clamping unit, vocabulary key.';
COMMENT ON COLUMN setting.thread IS 'Thread of the screw, such as M5.';
COMMENT ON COLUMN setting.drive IS 'Screw drives: vocabulary key and size in the standard''s own terms.';
COMMENT ON COLUMN setting.conductor_printed IS 'Conductor as printed.';
COMMENT ON COLUMN setting.system IS 'System in which the size is printed: mm2, awg, kcmil or diameter.';
COMMENT ON COLUMN setting.min_mm2 IS 'Smallest cross-section in mm2, where mm2 (or a diameter) is printed; NULL: open or not printed.';
COMMENT ON COLUMN setting.max_mm2 IS 'Largest cross-section in mm2, likewise.';
COMMENT ON COLUMN setting.min_awg IS 'Thinnest wire as text (14, 1/0, 250 kcmil), where AWG or kcmil is printed.';
COMMENT ON COLUMN setting.max_awg IS 'Thickest wire, likewise.';
COMMENT ON COLUMN setting.material IS 'Conductor materials, vocabulary keys; empty: the sheet does not say.';
COMMENT ON COLUMN setting.stranding IS 'Strandings, vocabulary keys; empty: the sheet does not say.';
COMMENT ON COLUMN setting.ferrule IS 'True with, false without end ferrule; NULL: the sheet does not say.';
COMMENT ON COLUMN setting.conductor_count IS 'Conductors in one terminal; NULL: the sheet does not say.';
COMMENT ON COLUMN setting.torque_printed IS 'Torque as printed, whatever its state; NULL: none printed.';
COMMENT ON COLUMN setting.unit_printed IS 'Unit of the torque as printed, wherever it stood.';
COMMENT ON COLUMN setting.min_nm IS 'Lowest torque in newton metres (N·m); NULL unless released, or open.';
COMMENT ON COLUMN setting.nominal_nm IS 'Nominal torque in N·m; NULL unless released, or for a range.';
COMMENT ON COLUMN setting.max_nm IS 'Highest torque in N·m; NULL unless released, or open.';
COMMENT ON COLUMN setting.limit_nm IS 'Torque never to be exceeded in N·m; alone, with the three others NULL, it is a limit and no setting. NULL unless released, or none printed.';
COMMENT ON COLUMN setting.read_min_nm IS 'Lowest torque in N·m as read from the sheet, released or not. Not an answer.';
COMMENT ON COLUMN setting.read_nominal_nm IS 'Nominal torque in N·m as read from the sheet, released or not. Not an answer.';
COMMENT ON COLUMN setting.read_max_nm IS 'Highest torque in N·m as read from the sheet, released or not. Not an answer.';
COMMENT ON COLUMN setting.read_limit_nm IS 'Torque never to be exceeded in N·m as read from the sheet, released or not. Not an answer.';
COMMENT ON COLUMN setting.page IS 'Page, from 1.';
COMMENT ON COLUMN setting.table_number IS 'Table on the page, from 1.';
COMMENT ON COLUMN setting.row_number IS 'Row of the table, from 1.';
COMMENT ON COLUMN setting.column_number IS 'Column of the table, from 1.';
COMMENT ON COLUMN setting.box IS 'Left, top, right, bottom of the place in points (1/72 inch) from the page''s top left.';
COMMENT ON COLUMN setting.place_text IS 'What is printed at the place.';
COMMENT ON COLUMN setting.evidence IS 'The print that proves each part of the setting: field (unit, quantity, screw, terminal or device), printed text, page.';
COMMENT ON COLUMN setting.missing IS 'Parts that no print proves (field), and the texts in which the proof was looked for (looked); empty unless held.';
COMMENT ON COLUMN setting.min_gauge IS 'gauge_rank(min_awg): orders AWG and kcmil sizes from thin to thick.';
COMMENT ON COLUMN setting.max_gauge IS 'gauge_rank(max_awg).';
COMMENT ON COLUMN setting.device_words IS 'fold_text of maker, family, device, series and model.';
COMMENT ON COLUMN setting.terminal_words IS 'fold_text of the terminal label.';
COMMENT ON COLUMN setting.scope IS 'The printed texts that speak for the figure, nearest first: kind (clause, row, heading, section_row, caption, … sheet), text, page; NULL: read before they were kept.';
COMMENT ON COLUMN setting.conditions IS 'What the sheet asks for beside the figure: vocabulary keys such as copper_only, conductor_75_c, no_retightening; NULL: read before they were kept.';
COMMENT ON COLUMN setting.says IS 'What its names say, in the keys of asked_term: kinds of device (family), parts and positions of the terminal, tripping characteristics (curve_b).';
COMMENT ON COLUMN setting.amps IS 'Rated currents in amperes that its names print, as ranges; of a single one both ends are the same.';
COMMENT ON COLUMN setting.sheet_number IS 'Number of the sheet (sheet.number).';
COMMENT ON COLUMN setting.said IS 'said_roles(roles): the roles and those that they say as well.';
COMMENT ON COLUMN setting.maker_words IS 'fold_names of the maker, of the sheet''s where the setting has none.';
COMMENT ON COLUMN setting.series_words IS 'fold_names of series and model.';
COMMENT ON COLUMN setting.read_state IS 'State as read, released or held, before any decision and whatever the sheet''s own.';
COMMENT ON COLUMN setting.beside IS 'What else the row of a held figure prints that lacks a name, each text under its heading; NULL: read before it was kept.';
COMMENT ON COLUMN setting.all_words IS 'fold_text and join_names of everything printed that names device, terminal and sheet: free words are looked for here.';

CREATE TABLE finding (
    sheet VARCHAR NOT NULL,
    setting VARCHAR,
    number INTEGER NOT NULL,
    code VARCHAR NOT NULL,
    scope VARCHAR NOT NULL,
    message VARCHAR NOT NULL,
    printed VARCHAR NOT NULL,
    page INTEGER,
    table_number INTEGER,
    row_number INTEGER,
    column_number INTEGER,
    box DOUBLE[],
    place_text VARCHAR,
    other VARCHAR
);
COMMENT ON TABLE finding IS 'Faults and remarks found while reading, each with what a person can do.';
COMMENT ON COLUMN finding.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN finding.setting IS 'Setting concerned (setting.id); NULL: the sheet, a page or a table.';
COMMENT ON COLUMN finding.number IS 'Order on the sheet or setting, from 1.';
COMMENT ON COLUMN finding.code IS 'Finding code.';
COMMENT ON COLUMN finding.scope IS 'setting, table, page or sheet.';
COMMENT ON COLUMN finding.message IS 'What is the matter and what a person can do.';
COMMENT ON COLUMN finding.printed IS 'Printed text concerned.';
COMMENT ON COLUMN finding.page IS 'Page, from 1; NULL: the same place as the setting, or none.';
COMMENT ON COLUMN finding.table_number IS 'Table on the page, from 1.';
COMMENT ON COLUMN finding.row_number IS 'Row of the table, from 1.';
COMMENT ON COLUMN finding.column_number IS 'Column of the table, from 1.';
COMMENT ON COLUMN finding.box IS 'Left, top, right, bottom in points from the page''s top left.';
COMMENT ON COLUMN finding.other IS 'Digest of the other sheet of a finding about two of them; NULL: none.';
COMMENT ON COLUMN finding.place_text IS 'What is printed at the place; NULL: the finding has no place of its own.';

CREATE TABLE decision (
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    verdict VARCHAR NOT NULL CHECK (verdict IN ('accept', 'correct', 'reject', 'reopen', 'add')),
    decided_at TIMESTAMP NOT NULL,
    who VARCHAR NOT NULL,
    why VARCHAR NOT NULL,
    torque_given VARCHAR,
    min_nm DECIMAL(38, 24),
    nominal_nm DECIMAL(38, 24),
    max_nm DECIMAL(38, 24),
    state_before VARCHAR NOT NULL,
    limit_nm DECIMAL(38, 24),
    number INTEGER
);
COMMENT ON TABLE decision IS 'What people decided about settings. Rows are only ever added, and go with their reading when it comes back under another id; the last one of a setting that is not undone (decision_record) holds while it is read as it was (decided_print).';
COMMENT ON COLUMN decision.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN decision.setting IS 'Setting decided (setting.id), under the id of its last reading.';
COMMENT ON COLUMN decision.verdict IS 'accept (the figure as read is right), correct (another figure is right), reject (no figure is to be used), reopen (it waits for a decision again), add (a row that the reader missed).';
COMMENT ON COLUMN decision.decided_at IS 'When, UTC.';
COMMENT ON COLUMN decision.who IS 'Who decided.';
COMMENT ON COLUMN decision.why IS 'The reason given.';
COMMENT ON COLUMN decision.torque_given IS 'The corrected torque as typed; NULL for accept and reject.';
COMMENT ON COLUMN decision.min_nm IS 'Lowest torque released by the decision in N·m; NULL: open, or rejected.';
COMMENT ON COLUMN decision.nominal_nm IS 'Nominal torque released by the decision in N·m; NULL: a range, or rejected.';
COMMENT ON COLUMN decision.max_nm IS 'Highest torque released by the decision in N·m; NULL: open, or rejected.';
COMMENT ON COLUMN decision.number IS 'Number of the decision (decision_record.number).';
COMMENT ON COLUMN decision.state_before IS 'State of the setting before the decision.';
COMMENT ON COLUMN decision.limit_nm IS 'Torque never to be exceeded released by the decision in N·m; NULL: none, or rejected.';
