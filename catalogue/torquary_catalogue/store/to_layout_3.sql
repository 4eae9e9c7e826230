-- Layout 3: limits, evidence, what is missing, and the reader that read a sheet. Until then an upper bound alone stood
-- in max_nm; it is a limit, and no setting. A table of roles that some files hold is a macro now.
DROP TABLE IF EXISTS role_cover;

ALTER TABLE sheet ADD COLUMN IF NOT EXISTS reader INTEGER;
ALTER TABLE decision ADD COLUMN IF NOT EXISTS limit_nm DECIMAL(38, 24);
ALTER TABLE decided_print ADD COLUMN IF NOT EXISTS read_limit_nm DECIMAL(38, 24);
ALTER TABLE setting ADD COLUMN IF NOT EXISTS limit_nm DECIMAL(38, 24);
ALTER TABLE setting ADD COLUMN IF NOT EXISTS read_limit_nm DECIMAL(38, 24);
ALTER TABLE setting ADD COLUMN IF NOT EXISTS evidence STRUCT(field VARCHAR, printed VARCHAR, page INTEGER)[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS missing STRUCT(field VARCHAR, looked VARCHAR)[];

-- A constraint cannot be added to a table that is there.
CREATE TEMP TABLE kept_setting AS
SELECT * REPLACE (coalesce(evidence, []) AS evidence, coalesce(missing, []) AS missing) FROM setting;
DROP TABLE setting;
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
    role VARCHAR,
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
    PRIMARY KEY (sheet, id),
    -- No question put to this table can meet a figure that was not released.
    CHECK (state = 'released' OR (min_nm IS NULL AND nominal_nm IS NULL AND max_nm IS NULL AND limit_nm IS NULL))
);
INSERT INTO setting BY NAME SELECT * FROM kept_setting;
DROP TABLE kept_setting;

UPDATE setting SET limit_nm = max_nm, max_nm = NULL WHERE min_nm IS NULL AND nominal_nm IS NULL AND max_nm IS NOT NULL;
UPDATE setting SET read_limit_nm = read_max_nm, read_max_nm = NULL
WHERE read_min_nm IS NULL AND read_nominal_nm IS NULL AND read_max_nm IS NOT NULL;
UPDATE decision SET limit_nm = max_nm, max_nm = NULL WHERE min_nm IS NULL AND nominal_nm IS NULL AND max_nm IS NOT NULL;
UPDATE decided_print SET read_limit_nm = read_max_nm, read_max_nm = NULL
WHERE read_min_nm IS NULL AND read_nominal_nm IS NULL AND read_max_nm IS NOT NULL;
