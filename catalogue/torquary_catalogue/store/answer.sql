CREATE TABLE IF NOT EXISTS answer (
    number INTEGER NOT NULL,
    sheet VARCHAR NOT NULL,
    reach VARCHAR NOT NULL,
    property VARCHAR NOT NULL,
    maker VARCHAR NOT NULL,
    device VARCHAR,
    device_from VARCHAR,
    terminal VARCHAR,
    terminal_from VARCHAR,
    unit VARCHAR,
    size_unit VARCHAR,
    purpose VARCHAR,
    tightening BOOLEAN,
    as_read VARCHAR[],
    rejects BOOLEAN,
    no_torque BOOLEAN
);
COMMENT ON TABLE answer IS 'What people gave for many readings at once, by the decision of kind answer of the same number: evidence that no print gives. It stands until that decision is undone.';
COMMENT ON COLUMN answer.number IS 'Number of the decision (decision_record.number).';
COMMENT ON COLUMN answer.sheet IS 'Digest of the sheet that was asked about (sheet.digest).';
COMMENT ON COLUMN answer.reach IS 'What it is for: reading, row, column, list, section, sheet (the readings in answer_print), or maker (all lists of the maker under the property, of later sheets too).';
COMMENT ON COLUMN answer.property IS 'Name that the torques stand under, folded; it counts for the reach maker.';
COMMENT ON COLUMN answer.maker IS 'Maker of the sheet, folded; it counts for the reach maker.';
COMMENT ON COLUMN answer.device IS 'Device as a person gave it; NULL: not given, here and in the other columns.';
COMMENT ON COLUMN answer.device_from IS 'Heading in setting.beside under which each row prints its device.';
COMMENT ON COLUMN answer.terminal IS 'Label of the terminal.';
COMMENT ON COLUMN answer.terminal_from IS 'Heading in setting.beside under which each row prints its terminal.';
COMMENT ON COLUMN answer.unit IS 'Unit that the torques are in.';
COMMENT ON COLUMN answer.size_unit IS 'Unit that the conductor sizes are in.';
COMMENT ON COLUMN answer.purpose IS 'What the screw is for: electrical_terminal, mounting, enclosure, gland or other.';
COMMENT ON COLUMN answer.tightening IS 'True: it is a tightening torque.';
COMMENT ON COLUMN answer.as_read IS 'What is right as it was read: device, terminal, blank (cells), condition (figures beside words that were not understood).';
COMMENT ON COLUMN answer.rejects IS 'True: none of the figures is to be used.';
COMMENT ON COLUMN answer.no_torque IS 'True: none of the figures is a torque, and none speaks against another one.';

CREATE TABLE IF NOT EXISTS answer_print (
    number INTEGER NOT NULL,
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    page INTEGER,
    table_number INTEGER,
    row_number INTEGER,
    column_number INTEGER,
    box DOUBLE[],
    place_text VARCHAR,
    torque_printed VARCHAR,
    read_min_nm DECIMAL(38, 24),
    read_nominal_nm DECIMAL(38, 24),
    read_max_nm DECIMAL(38, 24),
    read_limit_nm DECIMAL(38, 24),
    purpose VARCHAR,
    device_printed VARCHAR,
    terminal_printed VARCHAR,
    conductor_printed VARCHAR,
    system VARCHAR,
    min_mm2 DECIMAL(38, 24),
    max_mm2 DECIMAL(38, 24),
    min_awg VARCHAR,
    max_awg VARCHAR,
    material VARCHAR[],
    stranding VARCHAR[],
    ferrule BOOLEAN,
    conductor_count INTEGER,
    doubts VARCHAR[] NOT NULL
);
COMMENT ON TABLE answer_print IS 'The readings that an answer was given for: what was printed where, and what it was read as then. An answer goes on to count for a reading while the same print is read so. Columns as in decided_print.';
COMMENT ON COLUMN answer_print.number IS 'Number of the decision (decision_record.number).';
COMMENT ON COLUMN answer_print.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN answer_print.setting IS 'Id of the reading when the answer was given.';
COMMENT ON COLUMN answer_print.doubts IS 'Codes of the findings that held the reading.';
