CREATE TABLE IF NOT EXISTS work_entry (
    number INTEGER NOT NULL,
    taken_at TIMESTAMP NOT NULL,
    board VARCHAR NOT NULL,
    visit VARCHAR NOT NULL,
    terminal VARCHAR NOT NULL,
    found VARCHAR NOT NULL,
    done BOOLEAN NOT NULL,
    who VARCHAR NOT NULL,
    worked_at VARCHAR NOT NULL,
    driver VARCHAR NOT NULL,
    calibrated VARCHAR NOT NULL,
    set_nm DECIMAL(38, 24),
    sheet VARCHAR NOT NULL,
    setting VARCHAR NOT NULL,
    photo VARCHAR NOT NULL,
    remark VARCHAR NOT NULL
);
COMMENT ON TABLE work_entry IS 'The record of the work on boards: what was found and done at each terminal. Rows are only ever added; of several for one terminal of one visit the last holds, and those before it were corrected by it.';
COMMENT ON COLUMN work_entry.number IS 'Number of the entry, from 1.';
COMMENT ON COLUMN work_entry.taken_at IS 'When it was taken into the catalogue, UTC.';
COMMENT ON COLUMN work_entry.board IS 'Board, as its list names it.';
COMMENT ON COLUMN work_entry.visit IS 'Visit to the board: the day on which it began, year first.';
COMMENT ON COLUMN work_entry.terminal IS 'Terminal, as its plan names it: place, mark and terminal.';
COMMENT ON COLUMN work_entry.found IS 'As what it was found: loose, as_set, over_tight, not_checked.';
COMMENT ON COLUMN work_entry.done IS 'Whether it was set.';
COMMENT ON COLUMN work_entry.who IS 'Who did it.';
COMMENT ON COLUMN work_entry.worked_at IS 'When, by the clock of the place: 2031-05-02 or 2031-05-02T10:15.';
COMMENT ON COLUMN work_entry.driver IS 'Driver that it was set with; empty: not said, here and in the columns behind.';
COMMENT ON COLUMN work_entry.calibrated IS 'Last calibration of the driver, year first.';
COMMENT ON COLUMN work_entry.set_nm IS 'What the driver was set to, N·m; NULL: not said.';
COMMENT ON COLUMN work_entry.sheet IS 'Digest of the sheet that prints the torque (sheet.digest).';
COMMENT ON COLUMN work_entry.setting IS 'Setting that the torque is from (setting.id), as it was then.';
COMMENT ON COLUMN work_entry.photo IS 'Name of the file of a photograph.';
COMMENT ON COLUMN work_entry.remark IS 'Remark.';
