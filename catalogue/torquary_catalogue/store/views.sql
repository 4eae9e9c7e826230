CREATE VIEW last_decision AS
SELECT d.* FROM decision AS d JOIN decision_record AS r ON r.number = d.number
WHERE r.undone_by IS NULL
QUALIFY row_number() OVER (PARTITION BY d.sheet, d.setting ORDER BY d.number DESC) = 1;
COMMENT ON VIEW last_decision IS 'The decision of each setting that holds: the last one that was not undone.';

CREATE VIEW setting_in_force AS
SELECT
    s.id,
    s.state,
    s.purpose,
    coalesce(nullif(s.maker, ''), nullif(h.maker, '')) AS maker,
    s.family,
    s.series,
    s.model,
    s.device_printed,
    s.rated_current,
    s.terminal_printed,
    s.roles,
    s.any_terminal,
    s.clamp,
    s.thread,
    s.drive,
    s.conductor_printed,
    s.system,
    s.min_mm2,
    s.max_mm2,
    s.min_awg,
    s.max_awg,
    s.material,
    s.stranding,
    s.ferrule,
    s.conductor_count,
    s.conditions,
    CASE WHEN s.state = 'released' THEN s.torque_printed END AS torque_printed,
    CASE WHEN s.state = 'released' THEN s.unit_printed END AS unit_printed,
    s.min_nm,
    s.nominal_nm,
    s.max_nm,
    s.limit_nm,
    h.file,
    h.title,
    h.edition,
    s.page,
    s.table_number,
    s.row_number,
    CASE WHEN s.state = 'released' THEN s.place_text END AS place_text,
    CASE WHEN s.state = 'released' THEN s.evidence END AS evidence,
    s.missing,
    CASE WHEN s.state = 'released' THEN s.scope END AS scope,
    s.sheet,
    s.number,
    s.min_gauge,
    s.max_gauge,
    s.device_words,
    s.terminal_words,
    s.all_words,
    s.says,
    s.amps,
    s.sheet_number
FROM setting AS s
JOIN sheet AS h ON h.number = s.sheet_number
WHERE h.state = 'read' AND s.state <> 'superseded';
COMMENT ON VIEW setting_in_force IS 'Settings of the sheets in force, each with its sheet. A setting that is not released shows no torque.';

CREATE VIEW current_setting AS
SELECT s.*, f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM setting_in_force AS s
LEFT JOIN (
    SELECT sheet, setting, list({'code': code, 'message': message} ORDER BY number) AS findings
    FROM finding WHERE setting IS NOT NULL GROUP BY sheet, setting
) AS f ON f.sheet = s.sheet AND f.setting = s.id
LEFT JOIN last_decision AS d ON d.sheet = s.sheet AND d.setting = s.id AND s.state <> 'held';
COMMENT ON VIEW current_setting IS 'Settings of the sheets in force, each with its sheet, findings and last decision. A setting that is not released shows no torque.';

CREATE VIEW held_setting AS
SELECT
    s.id,
    h.file,
    h.edition,
    s.page,
    s.table_number,
    s.row_number,
    coalesce(nullif(s.maker, ''), nullif(h.maker, '')) AS maker,
    s.device_printed,
    s.terminal_printed,
    s.conductor_printed,
    s.torque_printed,
    s.read_min_nm,
    s.read_nominal_nm,
    s.read_max_nm,
    s.read_limit_nm,
    s.place_text,
    s.missing,
    coalesce(f.reasons, []) AS reasons,
    s.sheet,
    s.number,
    s.column_number,
    s.unit_printed,
    s.family,
    s.purpose,
    s.drive,
    s.conditions,
    s.scope,
    s.beside,
    coalesce(f.given, []) AS given
FROM setting AS s
JOIN sheet AS h ON h.digest = s.sheet
LEFT JOIN (
    SELECT sheet, setting, list({'code': code, 'message': message} ORDER BY number) AS reasons,
        list(printed) FILTER (code = 'evidence_given') AS given
    FROM finding WHERE setting IS NOT NULL GROUP BY sheet, setting
) AS f ON f.sheet = s.sheet AND f.setting = s.id
WHERE h.state = 'read' AND s.state = 'held';
COMMENT ON VIEW held_setting IS 'What waits for a decision: the printed words, what was read from them, and why it is held. Not an answer.';

COMMENT ON COLUMN current_setting.torque_printed IS 'Torque as printed; NULL unless released.';
COMMENT ON COLUMN current_setting.place_text IS 'What is printed at the place; NULL unless released.';
COMMENT ON COLUMN current_setting.unit_printed IS 'Unit of the torque as printed; NULL unless released.';
COMMENT ON COLUMN current_setting.evidence IS 'The print that proves each part of the setting: field, printed text, page; NULL unless released.';
COMMENT ON COLUMN current_setting.scope IS 'The printed texts that speak for the figure, nearest first: kind, text, page; NULL unless released.';
COMMENT ON COLUMN current_setting.findings IS 'Findings of the setting: code and message; for a held one, the reasons.';
COMMENT ON COLUMN current_setting.verdict IS 'Decision in force: accept, correct, reject or add (a row that the reader missed); NULL: none. A held setting has none, also where a finding asks about an earlier one.';
COMMENT ON COLUMN held_setting.reasons IS 'Findings of the setting: code and message.';
COMMENT ON COLUMN held_setting.given IS 'What people gave it that no print proves, each a list of parts (device, terminal, screw, …) with blanks between.';
