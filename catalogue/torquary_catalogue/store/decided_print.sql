CREATE TABLE IF NOT EXISTS decided_print (
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    decided_at TIMESTAMP NOT NULL,
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
    doubts VARCHAR[] NOT NULL,
    read_limit_nm DECIMAL(38, 24)
);
COMMENT ON TABLE decided_print IS 'What a decision is bound to: what was printed where, and what it was read as when a person decided, before any name that was given. A decision goes on to hold while the same print is read so; it has the time of its decision. The columns of the print and its reading are those of setting; all of them are NULL where an earlier version had lost the reading.';
COMMENT ON COLUMN decided_print.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN decided_print.setting IS 'Setting decided, under the id of its last reading (decision.setting).';
COMMENT ON COLUMN decided_print.decided_at IS 'When, UTC (decision.decided_at).';
COMMENT ON COLUMN decided_print.material IS 'As in setting; NULL: the conductor as read is not known, for an earlier version wrote the one given over it.';
COMMENT ON COLUMN decided_print.doubts IS 'Codes of the findings that held the reading.';
