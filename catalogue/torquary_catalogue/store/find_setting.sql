-- The one place where a question meets settings. Every argument is used once, in `given`, so that any of them may be
-- a query of its own.
CREATE MACRO find_setting(
    words := NULL, family := NULL, maker := NULL, series := NULL, terminal := NULL, roles := NULL, or_roles := NULL,
    part := NULL, mm2 := NULL, awg := NULL, conductors := NULL, amps := NULL, curve := NULL, material := NULL,
    stranding := NULL, ferrule := NULL, purpose := 'electrical_terminal', state := NULL
) AS TABLE
WITH given AS (
    SELECT words::VARCHAR AS a_words, family::VARCHAR AS a_family, maker::VARCHAR AS a_maker, series::VARCHAR AS a_series,
        terminal::VARCHAR AS a_terminal, roles::VARCHAR[] AS a_roles, or_roles::VARCHAR[] AS a_or_roles,
        part::VARCHAR AS a_part, mm2::DECIMAL(38, 24) AS a_mm2, gauge_rank(awg::VARCHAR) AS a_gauge,
        conductors::INTEGER AS a_conductors, amps::DOUBLE AS a_amps, curve::VARCHAR AS a_curve,
        material::VARCHAR AS a_material, stranding::VARCHAR AS a_stranding, ferrule::BOOLEAN AS a_ferrule,
        coalesce(purpose::VARCHAR, 'electrical_terminal') AS a_purpose, state::VARCHAR AS a_state
),
asked AS MATERIALIZED (
    SELECT *, coalesce(a_part IN ('top', 'bottom'), false) AS a_position, wider_roles(a_roles) AS a_wider,
        conductors_of(a_roles) AS a_conductor_roles, coalesce(list_has_any(a_roles, side_roles()), false) AS a_sided,
        coalesce(a_words, a_maker, a_series) IS NOT NULL AS a_typed, wider_roles(a_or_roles) AS a_or_wider,
        list_filter(string_split(fold_text(coalesce(a_words, '')), ' '), lambda a: a <> '') AS a_tokens,
        CASE WHEN NOT EXISTS (FROM asked_term AS e WHERE e.kind = 'family' AND e.key = a_family) THEN fold_text(a_family) END AS a_family_words, fold_text(a_maker) AS a_maker_words, fold_text(a_series) AS a_series_words,
        fold_text(a_terminal) AS a_label, coalesce(regexp_extract(fold_text(a_terminal), '[a-z]+[0-9]+$'), '') AS a_marking
    FROM given
),
matching AS (
    SELECT s.sheet, s.id, s.state, s.device_printed, s.model, s.terminal_printed, s.terminal_words, s.roles, s.any_terminal,
        s.limit_nm, s.min_nm, s.max_nm, s.system, s.min_mm2, s.max_mm2, s.min_gauge, s.max_gauge, s.conductor_printed,
        s.conductor_count, s.material, s.stranding, s.ferrule, s.conditions, s.says,
        said_roles(s.roles) AS said, len(s.roles) = 0 AS unnamed, list_has_any(s.roles, side_roles()) AS sided,
        coalesce(list_has_any(s.says, ['top', 'bottom']), false) AS placed,
        coalesce(len(s.amps), 0) > 0 AS amps_said,
        len(list_filter(coalesce(s.amps, []), lambda a: a.low <= q.a_amps AND q.a_amps <= a.high)) > 0 AS amps_fit, coalesce(list_contains(s.says, q.a_curve), false) AS curve_said, q.*
    FROM asked AS q, setting AS s JOIN sheet AS h ON h.digest = s.sheet
    WHERE h.state = 'read' AND (s.purpose = q.a_purpose OR (q.a_purpose = 'no_terminal' AND s.purpose <> 'electrical_terminal'))
      AND s.state IN ('released', 'held', 'rejected')
      AND s.sheet IN (SELECT w.sheet FROM sheet_words AS w, asked AS k WHERE has_all(w.all_words, k.a_tokens)
          AND (k.a_family IS NULL OR has_phrase(w.all_words, k.a_family) OR has_all(w.all_words, string_split(replace(k.a_family, '_', ' '), ' '))))
      AND has_all(s.all_words, q.a_tokens)
      AND (q.a_family IS NULL OR list_contains(s.says, q.a_family) OR s.family = q.a_family OR has_phrase(s.device_words, q.a_family_words))
      AND (q.a_maker IS NULL OR has_phrase(fold_names(coalesce(nullif(s.maker, ''), h.maker)), q.a_maker_words))
      AND (q.a_series IS NULL OR has_phrase(fold_names(concat_ws(' ', s.series, s.model)), q.a_series_words))
      AND (q.a_curve IS NULL OR list_contains(s.says, q.a_curve)
          OR len(list_filter(coalesce(s.says, []), lambda c: starts_with(c, 'curve_'))) = 0)
),
-- A rated current or characteristic that is not printed: the row answers who names its type, and one whose
-- characteristic is not printed stands beside others; where a kind of device is named and none prints a current, too.
rated AS (
    SELECT r.* FROM (SELECT *, max(amps_said) OVER () AS some_amps, max(amps_fit) OVER () AS some_fit, max(curve_said) OVER () AS some_curve
                     FROM matching) AS r
    WHERE (r.a_amps IS NULL OR r.amps_fit OR (NOT r.amps_said AND NOT r.some_fit
              AND (r.a_typed OR (r.a_family IS NOT NULL AND NOT r.some_amps))))
      AND (r.a_curve IS NULL OR r.curve_said OR r.some_curve OR r.a_typed)
),
near AS (
    SELECT
        CASE
            WHEN a_part IS NOT NULL AND (placed OR NOT a_position) AND NOT coalesce(list_contains(says, a_part), false) THEN NULL
            WHEN a_position AND NOT placed THEN CASE
                WHEN a_roles IS NULL AND (unnamed OR sided OR list_has_any(said, ['line', 'main', 'neutral', 'earth'])) THEN 'elsewhere' END
            WHEN a_part IS NOT NULL AND (a_roles IS NULL OR unnamed) THEN 'label'
            WHEN a_terminal IS NULL AND a_roles IS NULL
                THEN CASE WHEN is_limit_for_all(any_terminal, limit_nm, min_nm, max_nm) THEN 'any' ELSE 'unasked' END
            WHEN has_phrase(terminal_words, a_label) AND (a_roles IS NULL OR unnamed OR list_has_all(said, a_roles)) THEN 'label'
            WHEN other_marking(terminal_printed, terminal_words, a_marking) THEN NULL
            WHEN a_roles IS NOT NULL AND NOT unnamed AND list_has_all(said, a_roles)
                THEN CASE WHEN list_has_all(r.roles, list_filter(a_roles, lambda a: NOT list_contains(a_wider, a))) THEN 'role' ELSE 'narrower' END
            WHEN a_or_roles IS NOT NULL AND NOT unnamed AND NOT sided AND list_has_all(said, a_or_roles)
                AND list_has_all(r.roles, list_filter(a_or_roles, lambda a: NOT list_contains(a_or_wider, a))) THEN 'or_role'
            WHEN a_roles IS NOT NULL AND NOT unnamed AND NOT (sided AND a_sided) AND (
                CASE WHEN len(a_conductor_roles) = 0 THEN list_has_any(r.roles, a_wider)
                ELSE list_has_all(said, a_conductor_roles) OR list_has_any(r.roles, wider_roles(a_conductor_roles)) END) THEN 'wider'
            WHEN any_terminal THEN 'any'
            WHEN a_sided AND len(a_conductor_roles) = 0 AND placed AND unnamed THEN 'elsewhere'
        END AS terminal_fit,
        r.*
    FROM rated AS r
),
-- "Main circuit" beside "line" is no figure for the load: the sheet parts what the wider word leaves open.
ranked AS (
    SELECT CASE
            WHEN n.terminal_fit IN ('unasked', 'label') THEN 0
            WHEN n.terminal_fit IN ('role', 'narrower')
                THEN CASE WHEN regexp_matches(coalesce(n.a_terminal, ''), '[0-9]') THEN 1 ELSE 0 END
            WHEN n.terminal_fit = 'any' THEN 3
            WHEN n.terminal_fit = 'elsewhere' OR (n.terminal_fit = 'wider' AND n.placed) THEN 4
            ELSE 2
        END AS distance, n.* EXCLUDE (named)
    FROM (SELECT *, flatten(list(p.roles) OVER (PARTITION BY p.sheet, p.device_printed, p.model)) AS named FROM near AS p) AS n
    WHERE n.terminal_fit IS NOT NULL
      AND NOT (n.terminal_fit = 'wider' AND len(list_filter(n.named, lambda r: NOT list_contains(n.a_roles, r) AND (
            (list_has_any(wider_roles([r]), n.roles) AND NOT list_has_any(wider_roles([r]), n.a_roles))
            OR (list_contains(side_roles(), r) AND n.a_sided)))) > 0)
),
-- Of each device the rows that come nearest to the terminal asked for, whatever their conductor and state.
nearest AS (
    SELECT r.*, min(r.distance) OVER (PARTITION BY r.sheet, r.device_printed, r.model) AS least,
        min(r.distance) OVER () AS least_of_all
    FROM ranked AS r
),
fitting AS (
    SELECT
        CASE
            WHEN a_mm2 IS NULL AND a_gauge IS NULL THEN 'unasked'
            WHEN a_mm2 IS NOT NULL AND s.system IS DISTINCT FROM 'diameter' AND coalesce(s.min_mm2, s.max_mm2) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_mm2 <= a_mm2, true) AND coalesce(s.max_mm2 >= a_mm2, true) THEN 'size' ELSE 'outside' END
            WHEN a_gauge IS NOT NULL AND coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_gauge <= a_gauge, true) AND coalesce(s.max_gauge >= a_gauge, true) THEN 'size' ELSE 'outside' END
            WHEN coalesce(s.min_mm2, s.max_mm2) IS NOT NULL OR coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN 'other_system'
            WHEN regexp_matches(s.conductor_printed, '[0-9]') THEN 'unread'
            ELSE 'unsized'
        END AS fit,
        s.*
    FROM nearest AS s
    WHERE s.distance = s.least AND (s.distance < 4 OR s.least_of_all = 4)
      AND CASE WHEN a_state IS NULL THEN s.state IN ('released', 'held') ELSE s.state = a_state END
      AND (a_conductors IS NULL OR coalesce(s.conductor_count, 1) = a_conductors)
      AND (a_material IS NULL OR len(s.material) = 0 OR list_contains(s.material, a_material))
      AND NOT (coalesce(a_material = 'aluminium', false) AND coalesce(list_contains(s.conditions, 'no_aluminium'), false))
      AND (a_stranding IS NULL OR len(s.stranding) = 0 OR list_contains(s.stranding, a_stranding))
      AND (a_ferrule IS NULL OR s.ferrule IS NULL OR s.ferrule = a_ferrule)
      AND NOT (coalesce(a_ferrule, false) AND s.stranding = ['solid'])
),
-- Where a terminal has a row for ferrules, that one is meant, and not one that says nothing of them.
ferruled AS (
    SELECT f.* FROM (SELECT i.*, max(i.ferrule IS NOT NULL) OVER (PARTITION BY i.sheet, i.device_printed, i.model, i.terminal_printed) AS some_ferrule
                     FROM fitting AS i) AS f
    WHERE f.a_ferrule IS NULL OR f.ferrule IS NOT NULL OR NOT f.some_ferrule
),
-- The figure of one side or conductor is no answer for more while another's is held.
parted AS MATERIALIZED (
    SELECT f.*,
        count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model)
        - count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model, list_sort(f.roles)) AS held_beside
    FROM ferruled AS f
)
SELECT q.fit, q.terminal_fit, q.amps_said, q.curve_said, s.*, f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM parted AS q
JOIN settings_with() AS s ON s.sheet = q.sheet AND s.id = q.id
LEFT JOIN (
    SELECT k.sheet, k.setting, list({'code': k.code, 'message': k.message} ORDER BY k.number) AS findings
    FROM finding AS k WHERE k.setting IN (SELECT p.id FROM parted AS p) GROUP BY k.sheet, k.setting
) AS f ON f.sheet = q.sheet AND f.setting = q.id
LEFT JOIN last_decision AS d ON d.sheet = q.sheet AND d.setting = q.id AND q.state <> 'held'
WHERE NOT (q.held_beside > 0 AND q.state = 'released' AND (q.terminal_fit = 'elsewhere'
    OR (q.a_roles IS NOT NULL AND NOT list_has_all(list_concat(q.a_roles, q.a_wider), q.roles))))
ORDER BY
    list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], q.fit),
    s.state DESC, s.maker, s.file, s.page, s.number;
COMMENT ON MACRO TABLE find_setting IS 'The rows that bear on a question, as torquary find takes them: FROM find_setting(family := ''mcb'', roles := [''load_out''], mm2 := 10). fit: size (the printed range holds the size), unasked (no size in the question), unsized (no size printed), outside (printed in this system, but not this size), other_system (printed in another system only), unread. roles: all of them are asked for, a side and a conductor. terminal_fit: unasked, label (the words of terminal stand in the label), role, or_role (the second meaning asked for, or_roles), narrower or wider (see role_fit), any (the sheet names no terminal in particular; a limit for all terminals, where none is asked for) or elsewhere (top or bottom was asked and the sheet prints sides, or the other way round: never where something comes nearer); of each device only the rows that come nearest. purpose (no_terminal: any but a terminal''s) and state (''rejected'') ask for what is no answer. What a row does not say of material, stranding or ferrule fits any. part: top, bottom or pulse_output. amps and curve (curve_b): rated current and characteristic of the device; amps_said and curve_said tell whether the sheet prints them. Only released rows show a torque; several rows may differ. A row with limit_nm and no other figure is a limit (not more than that), never a setting.';
