-- Layout 6: every decision is on one record and can be undone; sheets have names, corrections and a state withdrawn.
ALTER TABLE finding ADD COLUMN IF NOT EXISTS other VARCHAR;

-- What a setting was read as: as the first decision about it found it, else as it is. Of a sheet out of force it is
-- not known; what any finding but a plain remark stands with is taken for held until the sheet is read anew.
ALTER TABLE setting ADD COLUMN IF NOT EXISTS read_state VARCHAR;
UPDATE setting SET read_state = CASE WHEN state = 'held' THEN 'held' ELSE 'released' END;
UPDATE setting SET read_state = 'held'
FROM (SELECT DISTINCT sheet, setting FROM finding WHERE setting IS NOT NULL
      AND code NOT IN ('witnessed', 'said_again', 'note_attached', 'released_unwitnessed', 'awg_mm2_unequal',
          'mcm_behind_awg', 'decision_unconfirmed')) AS f
WHERE setting.sheet = f.sheet AND setting.id = f.setting AND setting.state = 'superseded';
UPDATE setting SET read_state = CASE WHEN len(p.doubts) > 0 THEN 'held' ELSE 'released' END
FROM (SELECT sheet, setting, doubts FROM decided_print
      QUALIFY row_number() OVER (PARTITION BY sheet, setting ORDER BY decided_at DESC) = 1) AS p
WHERE setting.sheet = p.sheet AND setting.id = p.setting AND setting.state IN ('released', 'rejected');

CREATE TEMP TABLE kept_decision AS
SELECT *, row_number() OVER (ORDER BY decided_at, sheet, setting)::INTEGER AS number FROM decision;
DROP TABLE decision;
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
INSERT INTO decision BY NAME SELECT * FROM kept_decision;
DROP TABLE kept_decision;
INSERT INTO decision_record BY NAME
SELECT number, verdict AS kind, sheet, setting, decided_at, who, why, state_before AS before,
    CASE WHEN verdict = 'reject' THEN 'rejected' ELSE 'released' END AS after
FROM decision ORDER BY number;

CREATE TEMP TABLE kept_sheet AS SELECT * FROM sheet;
DROP TABLE sheet;
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
    as_read STRUCT(file VARCHAR, title VARCHAR, maker VARCHAR, document_number VARCHAR, edition VARCHAR, edition_date VARCHAR)
);
INSERT INTO sheet BY NAME SELECT *, {'file': file, 'title': title, 'maker': maker,
    'document_number': document_number, 'edition': edition, 'edition_date': edition_date} AS as_read FROM kept_sheet;
DROP TABLE kept_sheet;
INSERT INTO decision_record BY NAME
SELECT (coalesce((SELECT max(number) FROM decision), 0) + row_number() OVER (ORDER BY n.loaded_at, s.digest))::INTEGER
        AS number,
    'supersede' AS kind, s.digest AS sheet, s.superseded_by AS other, n.loaded_at AS decided_at,
    CASE s.superseded_why WHEN 'edition' THEN 'torquary' ELSE 'not kept' END AS who,
    CASE s.superseded_why WHEN 'edition' THEN n.file || ' is a later edition' ELSE 'loaded with --replace' END AS why,
    'in force' AS before, 'superseded by ' || n.file AS after
FROM sheet AS s JOIN sheet AS n ON n.digest = s.superseded_by
WHERE s.state = 'superseded' AND s.superseded_why IS NOT NULL;

-- What was read where a name was given. Its family was not kept, and its roles are told from the label (more_roles.py).
INSERT INTO name_read BY NAME
SELECT s.sheet, s.id AS setting, coalesce(p.device_printed, s.device_printed) AS device_printed, s.family,
    [{'field': replace(code, '_missing', ''), 'looked': ''} FOR code IN p.doubts IF code IN ('device_missing', 'terminal_missing')]
        AS missing,
    coalesce(p.terminal_printed, s.terminal_printed) AS terminal_printed, s.roles, s.any_terminal,
    coalesce(p.conductor_printed, s.conductor_printed) AS conductor_printed,
    CASE WHEN p.material IS NULL THEN s.system ELSE p.system END AS system,
    CASE WHEN p.material IS NULL THEN s.min_mm2 ELSE p.min_mm2 END AS min_mm2,
    CASE WHEN p.material IS NULL THEN s.max_mm2 ELSE p.max_mm2 END AS max_mm2,
    CASE WHEN p.material IS NULL THEN s.min_awg ELSE p.min_awg END AS min_awg,
    CASE WHEN p.material IS NULL THEN s.max_awg ELSE p.max_awg END AS max_awg,
    coalesce(p.material, s.material) AS material,
    CASE WHEN p.material IS NULL THEN s.stranding ELSE p.stranding END AS stranding,
    CASE WHEN p.material IS NULL THEN s.ferrule ELSE p.ferrule END AS ferrule,
    CASE WHEN p.material IS NULL THEN s.conductor_count ELSE p.conductor_count END AS conductor_count
FROM setting AS s JOIN (
    SELECT * FROM decided_print QUALIFY row_number() OVER (PARTITION BY sheet, setting ORDER BY decided_at DESC) = 1
) AS p ON p.sheet = s.sheet AND p.setting = s.id
WHERE s.state <> 'held' AND p.page IS NOT NULL
    AND EXISTS (SELECT 1 FROM name_given AS g WHERE g.sheet = s.sheet AND g.setting = s.id);
