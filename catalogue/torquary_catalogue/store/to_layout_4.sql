-- The texts that speak for a figure, and the conditions it is under. What was read before has none until its
-- sheet is read anew.
ALTER TABLE setting ADD COLUMN IF NOT EXISTS scope STRUCT(kind VARCHAR, text VARCHAR, page INTEGER)[];
ALTER TABLE setting ADD COLUMN IF NOT EXISTS conditions VARCHAR[];

-- Layout 4: a terminal has several roles, and a person may give the device. What was read as one role stays; sheets are
-- read anew when their files are loaded.
CREATE TEMP TABLE kept_setting AS
SELECT * EXCLUDE (role), CASE WHEN role IS NULL THEN [] ELSE [role] END AS roles FROM setting;
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
    PRIMARY KEY (sheet, id),
    -- No question put to this table can meet a figure that was not released.
    CHECK (state = 'released' OR (min_nm IS NULL AND nominal_nm IS NULL AND max_nm IS NULL AND limit_nm IS NULL))
);
INSERT INTO setting BY NAME SELECT * FROM kept_setting;
DROP TABLE kept_setting;

-- Files that are older than names given have this table in its newest shape already; later steps bring it there.
ALTER TABLE name_given DROP COLUMN IF EXISTS purpose;
ALTER TABLE name_given DROP COLUMN IF EXISTS drive;
ALTER TABLE name_given DROP COLUMN IF EXISTS conditions;
ALTER TABLE name_given ADD COLUMN IF NOT EXISTS role VARCHAR;
ALTER TABLE name_given ADD COLUMN IF NOT EXISTS roles VARCHAR[];
CREATE TEMP TABLE kept_name AS
SELECT * EXCLUDE (role, roles),
    coalesce(roles, CASE WHEN role IS NOT NULL THEN [role] WHEN terminal_printed IS NOT NULL THEN [] END) AS roles
FROM name_given;
DROP TABLE name_given;
CREATE TABLE name_given (
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
    family VARCHAR
);
INSERT INTO name_given BY NAME SELECT * FROM kept_name;
DROP TABLE kept_name;

-- What a sheet says of itself: its product, document number and the date of its edition.
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS product VARCHAR;
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS document_number VARCHAR;
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS edition_date VARCHAR;
