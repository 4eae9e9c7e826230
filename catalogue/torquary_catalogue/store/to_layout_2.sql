-- Layout 2: decisions are bound to what was printed where; a sheet out of force says what put it there.
ALTER TABLE sheet ADD COLUMN IF NOT EXISTS superseded_why VARCHAR;

-- The terminal and the conductor as read are the first that a name was given for.
INSERT INTO decided_print BY NAME
SELECT d.sheet, d.setting, d.decided_at,
    s.page, s.table_number, s.row_number, s.column_number, s.box, s.place_text,
    s.torque_printed, s.read_min_nm, s.read_nominal_nm, s.read_max_nm,
    s.purpose, s.device_printed,
    coalesce(t.terminal_read, s.terminal_printed) AS terminal_printed,
    coalesce(c.conductor_read, s.conductor_printed) AS conductor_printed,
    CASE WHEN c.setting IS NULL THEN s.system END AS system,
    CASE WHEN c.setting IS NULL THEN s.min_mm2 END AS min_mm2,
    CASE WHEN c.setting IS NULL THEN s.max_mm2 END AS max_mm2,
    CASE WHEN c.setting IS NULL THEN s.min_awg END AS min_awg,
    CASE WHEN c.setting IS NULL THEN s.max_awg END AS max_awg,
    CASE WHEN c.setting IS NULL THEN s.material END AS material,
    CASE WHEN c.setting IS NULL THEN s.stranding END AS stranding,
    CASE WHEN c.setting IS NULL THEN s.ferrule END AS ferrule,
    CASE WHEN c.setting IS NULL THEN s.conductor_count END AS conductor_count,
    coalesce(f.codes, []) AS doubts
FROM decision AS d
LEFT JOIN setting AS s ON s.sheet = d.sheet AND s.id = d.setting
LEFT JOIN (
    SELECT * FROM name_given WHERE terminal_printed IS NOT NULL
    QUALIFY row_number() OVER (PARTITION BY sheet, setting ORDER BY decided_at) = 1
) AS t ON t.sheet = d.sheet AND t.setting = d.setting
LEFT JOIN (
    SELECT * FROM name_given WHERE conductor_printed IS NOT NULL
    QUALIFY row_number() OVER (PARTITION BY sheet, setting ORDER BY decided_at) = 1
) AS c ON c.sheet = d.sheet AND c.setting = d.setting
LEFT JOIN (
    SELECT sheet, setting, list(DISTINCT code ORDER BY code) AS codes FROM finding
    WHERE setting IS NOT NULL GROUP BY sheet, setting
) AS f ON f.sheet = d.sheet AND f.setting = d.setting
WHERE NOT EXISTS (
    SELECT 1 FROM decided_print AS k
    WHERE k.sheet = d.sheet AND k.setting = d.setting AND k.decided_at = d.decided_at
);
