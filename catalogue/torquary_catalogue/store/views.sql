CREATE VIEW last_decision AS
SELECT d.* FROM decision AS d JOIN decision_record AS r ON r.number = d.number
WHERE r.undone_by IS NULL
QUALIFY row_number() OVER (PARTITION BY d.sheet, d.setting ORDER BY d.number DESC) = 1;
COMMENT ON VIEW last_decision IS 'The decision of each setting that holds: the last one that was not undone.';

-- The sheets are chosen first: a million settings are not looked through, word by word, for a few.
CREATE MACRO settings_with(words := NULL) AS TABLE
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
    s.all_words
FROM (
    SELECT * FROM setting AS r
    WHERE r.sheet IN (SELECT w.sheet FROM sheet_words AS w WHERE has_each_word(w.all_words, words))
) AS s
JOIN sheet AS h ON h.digest = s.sheet
WHERE h.state = 'read' AND s.state <> 'superseded';
COMMENT ON MACRO TABLE settings_with IS 'Settings of the sheets in force that have these words, in any order, all of them without words; each with its sheet. A setting that is not released shows no torque.';

CREATE VIEW current_setting AS
SELECT s.*, f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM settings_with() AS s
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

CREATE MACRO find_setting(
    words := NULL, family := NULL, maker := NULL, series := NULL, terminal := NULL, roles := NULL, or_roles := NULL,
    mm2 := NULL, awg := NULL, conductors := NULL, material := NULL, stranding := NULL, ferrule := NULL,
    purpose := 'electrical_terminal', state := NULL
) AS TABLE
WITH near AS (
    SELECT
        CASE
            WHEN terminal IS NULL AND roles IS NULL
                THEN CASE WHEN is_limit_for_all(s.any_terminal, s.limit_nm, s.min_nm, s.max_nm) THEN 'any' ELSE 'unasked' END
            WHEN has_words(s.terminal_words, terminal)
                AND (roles IS NULL OR len(s.roles) = 0 OR list_has_all(said_roles(s.roles), roles::VARCHAR[])) THEN 'label'
            WHEN other_marking(s.terminal_printed, s.terminal_words, terminal) THEN NULL
            WHEN role_fit(s.roles, roles) = 'role' THEN 'role'
            WHEN role_fit(s.roles, or_roles) = 'role' AND NOT list_has_any(s.roles, side_roles()) THEN 'or_role'
            WHEN role_fit(s.roles, roles) IS NOT NULL THEN role_fit(s.roles, roles)
            WHEN s.any_terminal THEN 'any'
        END AS terminal_fit,
        s.*
    FROM settings_with(words := concat_ws(' ', words::VARCHAR, family::VARCHAR)) AS s
    WHERE s.purpose = purpose
      AND s.state IN ('released', 'held', 'rejected')
      AND has_each_word(s.all_words, words)
      AND (family IS NULL OR s.family = family OR has_words(s.device_words, family))
      AND (maker IS NULL OR has_words(fold_names(coalesce(s.maker, '')), maker))
      AND (series IS NULL OR has_words(fold_names(concat_ws(' ', s.series, s.model)), series))
),
-- "Main circuit" beside "line" is no figure for the load: the sheet parts what the wider word leaves open.
ranked AS (
    SELECT CASE
            WHEN n.terminal_fit IN ('unasked', 'label') THEN 0
            WHEN n.terminal_fit IN ('role', 'narrower')
                THEN CASE WHEN regexp_matches(coalesce(terminal, ''), '[0-9]') THEN 1 ELSE 0 END
            WHEN n.terminal_fit = 'any' THEN 3
            ELSE 2
        END AS distance, n.* EXCLUDE (named)
    FROM (SELECT *, flatten(list(p.roles) OVER (PARTITION BY p.sheet, p.device_printed, p.model)) AS named FROM near AS p) AS n
    WHERE n.terminal_fit IS NOT NULL
      AND NOT (n.terminal_fit = 'wider' AND len(list_filter(n.named, lambda r: NOT list_contains(roles::VARCHAR[], r) AND (
            (list_has_any(wider_roles([r]), n.roles) AND NOT list_has_any(wider_roles([r]), roles::VARCHAR[]))
            OR (list_contains(side_roles(), r) AND list_has_any(roles::VARCHAR[], side_roles()))))) > 0)
),
-- Of each device the rows that come nearest to the terminal asked for, whatever their conductor and state.
nearest AS (
    SELECT r.*, min(r.distance) OVER (PARTITION BY r.sheet, r.device_printed, r.model) AS least FROM ranked AS r
),
fitting AS (
    SELECT
        CASE
            WHEN mm2 IS NULL AND awg IS NULL THEN 'unasked'
            WHEN mm2 IS NOT NULL AND s.system IS DISTINCT FROM 'diameter' AND coalesce(s.min_mm2, s.max_mm2) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_mm2 <= mm2::DECIMAL(38, 24), true)
                           AND coalesce(s.max_mm2 >= mm2::DECIMAL(38, 24), true) THEN 'size' ELSE 'outside' END
            WHEN awg IS NOT NULL AND coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_gauge <= gauge_rank(awg::VARCHAR), true)
                           AND coalesce(s.max_gauge >= gauge_rank(awg::VARCHAR), true) THEN 'size' ELSE 'outside' END
            WHEN coalesce(s.min_mm2, s.max_mm2) IS NOT NULL OR coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN 'other_system'
            WHEN regexp_matches(s.conductor_printed, '[0-9]') THEN 'unread'
            ELSE 'unsized'
        END AS fit,
        s.* EXCLUDE (distance, least)
    FROM nearest AS s
    WHERE s.distance = s.least
      AND CASE WHEN state IS NULL THEN s.state IN ('released', 'held') ELSE s.state = state END
      AND (conductors IS NULL OR coalesce(s.conductor_count, 1) = conductors)
      AND (material IS NULL OR len(s.material) = 0 OR list_contains(s.material, material))
      AND NOT (coalesce(material = 'aluminium', false) AND coalesce(list_contains(s.conditions, 'no_aluminium'), false))
      AND (stranding IS NULL OR len(s.stranding) = 0 OR list_contains(s.stranding, stranding))
      AND (ferrule IS NULL OR s.ferrule IS NULL OR s.ferrule = ferrule)
),
-- The figure of one side or conductor is no answer for more while another's is held.
parted AS MATERIALIZED (
    SELECT f.*,
        count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model)
        - count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model, list_sort(f.roles)) AS held_beside
    FROM fitting AS f
)
SELECT q.* EXCLUDE (held_beside), f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM parted AS q
LEFT JOIN (
    SELECT k.sheet, k.setting, list({'code': k.code, 'message': k.message} ORDER BY k.number) AS findings
    FROM finding AS k WHERE k.setting IN (SELECT p.id FROM parted AS p) GROUP BY k.sheet, k.setting
) AS f ON f.sheet = q.sheet AND f.setting = q.id
LEFT JOIN last_decision AS d ON d.sheet = q.sheet AND d.setting = q.id AND q.state <> 'held'
WHERE NOT (q.held_beside > 0 AND q.state = 'released'
    AND roles IS NOT NULL AND NOT list_has_all(list_concat(roles::VARCHAR[], wider_roles(roles)), q.roles))
ORDER BY
    list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], q.fit),
    q.state DESC, q.maker, q.file, q.page, q.number;
COMMENT ON MACRO TABLE find_setting IS 'The rows that bear on a question, as torquary find takes them: FROM find_setting(family := ''mcb'', roles := [''load_out''], mm2 := 10). fit: size (the printed range holds the size), unasked (no size in the question), unsized (no size printed), outside (printed in this system, but not this size), other_system (printed in another system only), unread. roles: all of them are asked for, a side and a conductor. terminal_fit: unasked, label (the words of terminal stand in the label), role, or_role (the second meaning asked for, or_roles), narrower or wider (see role_fit), any (the sheet names no terminal in particular; a limit for all terminals, where none is asked for); of each device only the rows that come nearest. purpose and state (''rejected'') ask for what is no answer. What a row does not say of material, stranding or ferrule fits any. Only released rows show a torque; several rows may differ. A row with limit_nm and no other figure is a limit (not more than that), never a setting.';
COMMENT ON COLUMN current_setting.torque_printed IS 'Torque as printed; NULL unless released.';
COMMENT ON COLUMN current_setting.place_text IS 'What is printed at the place; NULL unless released.';
COMMENT ON COLUMN current_setting.unit_printed IS 'Unit of the torque as printed; NULL unless released.';
COMMENT ON COLUMN current_setting.evidence IS 'The print that proves each part of the setting: field, printed text, page; NULL unless released.';
COMMENT ON COLUMN current_setting.scope IS 'The printed texts that speak for the figure, nearest first: kind, text, page; NULL unless released.';
COMMENT ON COLUMN current_setting.findings IS 'Findings of the setting: code and message; for a held one, the reasons.';
COMMENT ON COLUMN current_setting.verdict IS 'Decision in force: accept, correct, reject or add (a row that the reader missed); NULL: none. A held setting has none, also where a finding asks about an earlier one.';
COMMENT ON COLUMN held_setting.reasons IS 'Findings of the setting: code and message.';
COMMENT ON COLUMN held_setting.given IS 'What people gave it that no print proves, each a list of parts (device, terminal, screw, …) with blanks between.';
