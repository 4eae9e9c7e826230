CREATE TABLE IF NOT EXISTS name_given (
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    decided_at TIMESTAMP NOT NULL,
    terminal_read VARCHAR NOT NULL,
    terminal_printed VARCHAR,
    roles VARCHAR[],
    any_terminal BOOLEAN,
    conductor_read VARCHAR NOT NULL,
    conductor_printed VARCHAR,
    system VARCHAR,
    min_mm2 DECIMAL(38, 24),
    max_mm2 DECIMAL(38, 24),
    min_awg VARCHAR,
    max_awg VARCHAR,
    material VARCHAR[] NOT NULL,
    stranding VARCHAR[] NOT NULL,
    ferrule BOOLEAN,
    conductor_count INTEGER,
    device_read VARCHAR,
    device_printed VARCHAR,
    family VARCHAR,
    purpose VARCHAR,
    drive STRUCT(kind VARCHAR, size VARCHAR)[],
    conditions VARCHAR[]
);
COMMENT ON TABLE name_given IS 'What people said is printed as device, terminal, conductor, driver bit or condition, or what the screw is for, where it was read otherwise, with the decision of the same moment. Rows are only ever added; the last word on each of them holds.';
COMMENT ON COLUMN name_given.sheet IS 'Digest of the sheet (sheet.digest).';
COMMENT ON COLUMN name_given.setting IS 'Setting concerned (setting.id).';
COMMENT ON COLUMN name_given.decided_at IS 'When, UTC (decision.decided_at).';
COMMENT ON COLUMN name_given.terminal_read IS 'Terminal label before.';
COMMENT ON COLUMN name_given.terminal_printed IS 'Terminal label as a person gave it; NULL: none given.';
COMMENT ON COLUMN name_given.conductor_read IS 'Conductor before.';
COMMENT ON COLUMN name_given.conductor_printed IS 'Conductor as a person gave it; NULL: none given.';
COMMENT ON COLUMN name_given.device_read IS 'Device before; NULL: not kept by an earlier version.';
COMMENT ON COLUMN name_given.device_printed IS 'Device as a person gave it; NULL: none given.';
COMMENT ON COLUMN name_given.purpose IS 'What the screw is for, as a person gave it; NULL: none given.';
COMMENT ON COLUMN name_given.drive IS 'Screw drives as a person gave them; NULL: none given.';
COMMENT ON COLUMN name_given.conditions IS 'Conditions as a person gave them, all of them; NULL: none given.';
