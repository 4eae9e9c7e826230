-- The one place where a question meets settings. Every argument is used once, in `given`, so that any of them may be
-- a query of its own; what is asked goes through all steps as one value, `q`. Making the plan takes longer than
-- carrying it out: what can be told of a setting alone is told at load (its columns `said`, `…_words`).
CREATE MACRO matching_setting(
    words := NULL, family := NULL, maker := NULL, series := NULL, terminal := NULL, roles := NULL, or_roles := NULL,
    part := NULL, mm2 := NULL, awg := NULL, conductors := NULL, amps := NULL, curve := NULL, material := NULL,
    stranding := NULL, ferrule := NULL, purpose := 'electrical_terminal', state := NULL
) AS TABLE
WITH given AS (
    SELECT *, list_filter(string_split(coalesce(folded[1], ''), ' '), lambda a: a <> '') AS tokens,
        wider_roles(a.roles) AS wider, wider_roles(a.or_roles) AS or_wider, conductors_of(a.roles) AS of_conductors,
        string_split(replace(a.family, '_', ' '), ' ') AS family_parts
    FROM (SELECT {'family': family::VARCHAR, 'terminal': terminal::VARCHAR, 'roles': roles::VARCHAR[],
            'or_roles': or_roles::VARCHAR[], 'part': part::VARCHAR, 'mm2': mm2::DECIMAL(38, 24),
            'gauge': gauge_rank(awg::VARCHAR), 'conductors': conductors::INTEGER, 'amps': amps::DOUBLE,
            'curve': curve::VARCHAR, 'material': material::VARCHAR, 'stranding': stranding::VARCHAR,
            'ferrule': ferrule::BOOLEAN, 'purpose': coalesce(purpose::VARCHAR, 'electrical_terminal'),
            'state': state::VARCHAR} AS a,
        fold_each([words::VARCHAR, family::VARCHAR, maker::VARCHAR, series::VARCHAR, terminal::VARCHAR]) AS folded)
),
asked AS MATERIALIZED (
    SELECT tokens, family_parts, list_concat(tokens, family_parts, CASE WHEN a.family IS NULL THEN [] ELSE [a.family] END) AS sought,
        struct_insert(a, tokens := tokens, family_words := CASE WHEN NOT EXISTS (FROM asked_term AS e WHERE e.kind = 'family' AND e.key = a.family) THEN folded[2] END,
            maker_words := folded[3], series_words := folded[4], label := folded[5],
            marking := coalesce(regexp_extract(folded[5], '[a-z]+[0-9]+$'), ''),
            position := coalesce(a.part IN ('top', 'bottom'), false),
            sided := coalesce(list_has_any(a.roles, side_roles()), false),
            typed := coalesce(folded[1], folded[3], folded[4]) IS NOT NULL,
            wider := wider, of_conductors := of_conductors, conductors_wider := wider_roles(of_conductors),
            own := list_filter(a.roles, lambda r: NOT list_contains(wider, r)),
            or_own := list_filter(a.or_roles, lambda r: NOT list_contains(or_wider, r))) AS q
    FROM given
),
-- The sheets are chosen first, by words that stand sorted: a million settings are not looked through for a few.
worded AS (
    SELECT w.sheet_number, list(w.word) AS words
    FROM sheet_word AS w JOIN (SELECT DISTINCT unnest(sought) AS word FROM asked) AS k ON k.word = w.word
    GROUP BY w.sheet_number
),
near_sheet AS (
    SELECT h.number, h.file, h.title, h.edition, h.maker, a.q
    FROM sheet AS h, asked AS a LEFT JOIN worded AS w ON w.sheet_number = h.number
    WHERE h.state = 'read' AND (len(a.sought) = 0 OR (list_has_all(w.words, a.tokens)
        AND (a.q.family IS NULL OR list_contains(w.words, a.q.family) OR list_has_all(w.words, a.family_parts))))
),
looked_at AS MATERIALIZED (
    SELECT s.*, h.q, h.file, h.title, h.edition, coalesce(nullif(s.maker, ''), nullif(h.maker, '')) AS shown_maker,
        len(s.roles) = 0 AS unnamed, list_has_any(s.roles, side_roles()) AS sided,
        coalesce(list_has_any(s.says, ['top', 'bottom']), false) AS placed,
        coalesce(len(s.amps), 0) > 0 AS amps_said,
        len(list_filter(coalesce(s.amps, []), lambda a: a.low <= h.q.amps AND h.q.amps <= a.high)) > 0 AS amps_fit,
        coalesce(list_contains(s.says, h.q.curve), false) AS curve_said
    FROM setting AS s JOIN near_sheet AS h ON h.number = s.sheet_number
    WHERE s.state IN ('released', 'held', 'rejected')
      AND (s.purpose = h.q.purpose OR (h.q.purpose = 'no_terminal' AND s.purpose <> 'electrical_terminal'))
      AND has_all(s.all_words, h.q.tokens)
      AND (h.q.family IS NULL OR list_contains(s.says, h.q.family) OR s.family = h.q.family OR has_phrase(s.device_words, h.q.family_words))
      AND (h.q.maker_words IS NULL OR has_phrase(s.maker_words, h.q.maker_words))
      AND (h.q.series_words IS NULL OR has_phrase(s.series_words, h.q.series_words))
      AND (h.q.curve IS NULL OR list_contains(s.says, h.q.curve)
          OR len(list_filter(coalesce(s.says, []), lambda c: starts_with(c, 'curve_'))) = 0)
),
-- A rated current or characteristic that is not printed: the row answers who names its type, and one whose
-- characteristic is not printed stands beside others; where a kind of device is named and none prints a current, too.
rated AS (
    SELECT l.sheet, l.id, l.state, l.device_printed, l.model, l.terminal_printed, l.terminal_words, l.roles, l.said, l.any_terminal,
        l.limit_nm, l.min_nm, l.max_nm, l.system, l.min_mm2, l.max_mm2, l.min_gauge, l.max_gauge, l.conductor_printed,
        l.conductor_count, l.material, l.stranding, l.ferrule, l.conditions, l.says, l.q, l.unnamed, l.sided, l.placed
    FROM looked_at AS l
    QUALIFY (l.q.amps IS NULL OR l.amps_fit OR (NOT l.amps_said AND NOT max(l.amps_fit) OVER ()
              AND (l.q.typed OR (l.q.family IS NOT NULL AND NOT max(l.amps_said) OVER ()))))
        AND (l.q.curve IS NULL OR l.curve_said OR l.q.typed OR max(l.curve_said) OVER ())
),
near AS (
    SELECT
        CASE
            WHEN q.part IS NOT NULL AND (placed OR NOT q.position) AND NOT coalesce(list_contains(says, q.part), false) THEN NULL
            WHEN q.position AND NOT placed THEN CASE
                WHEN q.roles IS NULL AND (unnamed OR sided OR list_has_any(said, ['line', 'main', 'neutral', 'earth'])) THEN 'elsewhere' END
            WHEN q.part IS NOT NULL AND (q.roles IS NULL OR unnamed) THEN 'label'
            WHEN q.terminal IS NULL AND q.roles IS NULL
                THEN CASE WHEN is_limit_for_all(any_terminal, limit_nm, min_nm, max_nm) THEN 'any' ELSE 'unasked' END
            WHEN has_phrase(terminal_words, q.label) AND (q.roles IS NULL OR unnamed OR list_has_all(said, q.roles)) THEN 'label'
            WHEN other_marking(terminal_printed, terminal_words, q.marking) THEN NULL
            WHEN q.roles IS NOT NULL AND NOT unnamed AND list_has_all(said, q.roles)
                THEN CASE WHEN list_has_all(r.roles, q.own) THEN 'role' ELSE 'narrower' END
            WHEN q.or_roles IS NOT NULL AND NOT unnamed AND NOT sided AND list_has_all(said, q.or_roles)
                AND list_has_all(r.roles, q.or_own) THEN 'or_role'
            WHEN q.roles IS NOT NULL AND NOT unnamed AND NOT (sided AND q.sided) AND (
                CASE WHEN len(q.of_conductors) = 0 THEN list_has_any(r.roles, q.wider)
                ELSE list_has_all(said, q.of_conductors) OR list_has_any(r.roles, q.conductors_wider) END) THEN 'wider'
            WHEN any_terminal THEN 'any'
            WHEN q.sided AND len(q.of_conductors) = 0 AND placed AND unnamed THEN 'elsewhere'
        END AS terminal_fit,
        r.*
    FROM rated AS r
),
-- "Main circuit" beside "line" is no figure for the load: the sheet parts what the wider word leaves open.
ranked AS (
    SELECT CASE
            WHEN n.terminal_fit IN ('unasked', 'label') THEN 0
            WHEN n.terminal_fit IN ('role', 'narrower')
                THEN CASE WHEN regexp_matches(coalesce(n.q.terminal, ''), '[0-9]') THEN 1 ELSE 0 END
            WHEN n.terminal_fit = 'any' THEN 3
            WHEN n.terminal_fit = 'elsewhere' OR (n.terminal_fit = 'wider' AND n.placed) THEN 4
            ELSE 2
        END AS distance, n.*
    FROM near AS n
    QUALIFY n.terminal_fit IS NOT NULL
      AND NOT (n.terminal_fit = 'wider' AND len(list_filter(
            flatten(list(n.roles) OVER (PARTITION BY n.sheet, n.device_printed, n.model)), lambda r: NOT list_contains(n.q.roles, r) AND (
            (list_has_any(wider_roles([r]), n.roles) AND NOT list_has_any(wider_roles([r]), n.q.roles))
            OR (list_contains(side_roles(), r) AND n.q.sided)))) > 0)
),
-- Of each device the rows that come nearest to the terminal asked for, whatever their conductor and state.
fitting AS (
    SELECT
        CASE
            WHEN s.q.mm2 IS NULL AND s.q.gauge IS NULL THEN 'unasked'
            WHEN s.q.mm2 IS NOT NULL AND s.system IS DISTINCT FROM 'diameter' AND coalesce(s.min_mm2, s.max_mm2) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_mm2 <= s.q.mm2, true) AND coalesce(s.max_mm2 >= s.q.mm2, true) THEN 'size' ELSE 'outside' END
            WHEN s.q.gauge IS NOT NULL AND coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_gauge <= s.q.gauge, true) AND coalesce(s.max_gauge >= s.q.gauge, true) THEN 'size' ELSE 'outside' END
            WHEN coalesce(s.min_mm2, s.max_mm2) IS NOT NULL OR coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN 'other_system'
            WHEN regexp_matches(s.conductor_printed, '[0-9]') THEN 'unread'
            ELSE 'unsized'
        END AS fit,
        s.*
    FROM ranked AS s
    QUALIFY s.distance = min(s.distance) OVER (PARTITION BY s.sheet, s.device_printed, s.model)
      AND (s.distance < 4 OR min(s.distance) OVER () = 4)
      AND CASE WHEN s.q.state IS NULL THEN s.state IN ('released', 'held') ELSE s.state = s.q.state END
      AND (s.q.conductors IS NULL OR coalesce(s.conductor_count, 1) = s.q.conductors)
      AND (s.q.material IS NULL OR len(s.material) = 0 OR list_contains(s.material, s.q.material))
      AND NOT (coalesce(s.q.material = 'aluminium', false) AND coalesce(list_contains(s.conditions, 'no_aluminium'), false))
      AND (s.q.stranding IS NULL OR len(s.stranding) = 0 OR list_contains(s.stranding, s.q.stranding))
      AND (s.q.ferrule IS NULL OR s.ferrule IS NULL OR s.ferrule = s.q.ferrule)
      AND NOT (coalesce(s.q.ferrule, false) AND s.stranding = ['solid'])
),
-- Where a terminal has a row for ferrules, that one is meant, and not one that says nothing of them.
ferruled AS (
    FROM fitting AS f
    QUALIFY f.q.ferrule IS NULL OR f.ferrule IS NOT NULL
        OR NOT max(f.ferrule IS NOT NULL) OVER (PARTITION BY f.sheet, f.device_printed, f.model, f.terminal_printed)
),
-- The figure of one side or conductor is no answer for more while another's is held.
parted AS MATERIALIZED (
    SELECT f.fit, f.terminal_fit, f.sheet, f.id
    FROM ferruled AS f
    QUALIFY NOT (f.state = 'released' AND (f.terminal_fit = 'elsewhere'
            OR (f.q.roles IS NOT NULL AND NOT list_has_all(list_concat(f.q.roles, f.q.wider), f.roles)))
        AND count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model)
        > count(*) FILTER (WHERE f.state = 'held' AND f.fit NOT IN ('outside', 'other_system'))
            OVER (PARTITION BY f.sheet, f.device_printed, f.model, list_sort(f.roles)))
)
SELECT p.fit, p.terminal_fit, s.amps_said, s.curve_said, s.id, s.state, s.purpose, s.shown_maker AS maker, s.family, s.series, s.model,
    s.device_printed, s.rated_current, s.terminal_printed, s.roles, s.any_terminal, s.clamp, s.thread, s.drive,
    s.conductor_printed, s.system, s.min_mm2, s.max_mm2, s.min_awg, s.max_awg, s.material, s.stranding, s.ferrule,
    s.conductor_count, s.conditions, CASE WHEN s.state = 'released' THEN s.torque_printed END AS torque_printed,
    CASE WHEN s.state = 'released' THEN s.unit_printed END AS unit_printed, s.min_nm, s.nominal_nm, s.max_nm, s.limit_nm,
    s.file, s.title, s.edition, s.page, s.table_number, s.row_number,
    CASE WHEN s.state = 'released' THEN s.place_text END AS place_text,
    CASE WHEN s.state = 'released' THEN s.evidence END AS evidence, s.missing,
    CASE WHEN s.state = 'released' THEN s.scope END AS scope,
    s.sheet, s.number, s.min_gauge, s.max_gauge, s.device_words, s.terminal_words, s.all_words, s.says, s.amps
FROM parted AS p
JOIN looked_at AS s ON s.sheet = p.sheet AND s.id = p.id;
COMMENT ON MACRO TABLE matching_setting IS 'The rows of find_setting in no order, without their findings and decisions.';

CREATE MACRO find_setting(
    words := NULL, family := NULL, maker := NULL, series := NULL, terminal := NULL, roles := NULL, or_roles := NULL,
    part := NULL, mm2 := NULL, awg := NULL, conductors := NULL, amps := NULL, curve := NULL, material := NULL,
    stranding := NULL, ferrule := NULL, purpose := 'electrical_terminal', state := NULL
) AS TABLE
WITH matching AS MATERIALIZED (
    FROM matching_setting(
        words := words, family := family, maker := maker, series := series, terminal := terminal, roles :=
        roles, or_roles := or_roles, part := part, mm2 := mm2, awg := awg, conductors := conductors, amps :=
        amps, curve := curve, material := material, stranding := stranding, ferrule := ferrule, purpose :=
        purpose, state := state
    )
)
SELECT s.*, f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM matching AS s
LEFT JOIN (
    SELECT k.sheet, k.setting, list({'code': k.code, 'message': k.message} ORDER BY k.number) AS findings
    FROM finding AS k WHERE k.setting IN (SELECT m.id FROM matching AS m) GROUP BY k.sheet, k.setting
) AS f ON f.sheet = s.sheet AND f.setting = s.id
LEFT JOIN last_decision AS d ON d.sheet = s.sheet AND d.setting = s.id AND s.state <> 'held'
ORDER BY
    list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], s.fit),
    s.state DESC, s.maker, s.file, s.page, s.number;
COMMENT ON MACRO TABLE find_setting IS 'The rows that bear on a question, as torquary find takes them: FROM find_setting(family := ''mcb'', roles := [''load_out''], mm2 := 10). fit: size (the printed range holds the size), unasked (no size in the question), unsized (no size printed), outside (printed in this system, but not this size), other_system (printed in another system only), unread. roles: all of them are asked for, a side and a conductor. terminal_fit: unasked, label (the words of terminal stand in the label), role, or_role (the second meaning asked for, or_roles), narrower or wider (see role_fit), any (the sheet names no terminal in particular; a limit for all terminals, where none is asked for) or elsewhere (top or bottom was asked and the sheet prints sides, or the other way round: never where something comes nearer); of each device only the rows that come nearest. purpose (no_terminal: any but a terminal''s) and state (''rejected'') ask for what is no answer. What a row does not say of material, stranding or ferrule fits any. part: top, bottom or pulse_output. amps and curve (curve_b): rated current and characteristic of the device; amps_said and curve_said tell whether the sheet prints them. Only released rows show a torque; several rows may differ. A row with limit_nm and no other figure is a limit (not more than that), never a setting.';
