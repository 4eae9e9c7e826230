-- The one place where a question meets settings. Every argument is used once, in `given`, so that any of them may be
-- a query of its own. Making the plan takes longer than carrying it out: what can be told of a setting alone is told
-- at load (its columns `said`, `…_words`), what a row is to the question in one step, and the steps behind it, which
-- compare rows, carry no more than they need.
CREATE MACRO find_setting(
    words := NULL, family := NULL, maker := NULL, series := NULL, terminal := NULL, roles := NULL, or_roles := NULL,
    part := NULL, mm2 := NULL, awg := NULL, conductors := NULL, amps := NULL, curve := NULL, material := NULL,
    stranding := NULL, ferrule := NULL, purpose := 'electrical_terminal', state := NULL
) AS TABLE
WITH given AS (
    SELECT fold_asked([words::VARCHAR, family::VARCHAR, maker::VARCHAR, series::VARCHAR, terminal::VARCHAR]) AS folded,
        family::VARCHAR AS family, terminal::VARCHAR AS terminal, roles::VARCHAR[] AS roles,
        or_roles::VARCHAR[] AS or_roles, part::VARCHAR AS part, mm2::DECIMAL(38, 24) AS mm2,
        gauge_rank(awg::VARCHAR) AS gauge, conductors::INTEGER AS conductors, amps::DOUBLE AS amps,
        curve::VARCHAR AS curve, material::VARCHAR AS material, stranding::VARCHAR AS stranding,
        ferrule::BOOLEAN AS ferrule, coalesce(purpose::VARCHAR, 'electrical_terminal') AS purpose,
        state::VARCHAR AS state
),
asked AS MATERIALIZED (
    SELECT g.*, list_filter(string_split(coalesce(folded[1], ''), ' '), lambda a: a <> '') AS tokens,
        string_split(replace(g.family, '_', ' '), ' ') AS family_parts,
        CASE WHEN NOT EXISTS (FROM asked_term AS e WHERE e.kind = 'family' AND e.key = g.family) THEN folded[2] END AS family_words,
        folded[3] AS maker_words, folded[4] AS series_words, folded[5] AS label,
        coalesce(folded[1], folded[3], folded[4]) IS NOT NULL AS typed,
        coalesce(regexp_extract(folded[5], '[a-z]+[0-9]+$'), '') AS marking,
        coalesce(g.part IN ('top', 'bottom'), false) AS position, coalesce(list_has_any(g.roles, side_roles()), false) AS sided,
        wider_roles(g.roles) AS wider, wider_roles(g.or_roles) AS or_wider, conductors_of(g.roles) AS of_conductors
    FROM given AS g
),
-- The sheets are chosen first, by words that stand sorted: a million settings are not looked through for a few.
worded AS (
    SELECT w.sheet_number, list(w.word) AS words
    FROM sheet_word AS w
    JOIN (SELECT unnest(list_concat(a.tokens, a.family_parts, [a.family])) AS word FROM asked AS a) AS k ON k.word = w.word
    GROUP BY w.sheet_number
),
near_sheet AS (
    SELECT h.number, h.file, h.title, h.edition, h.maker
    FROM sheet AS h LEFT JOIN worded AS w ON w.sheet_number = h.number, asked AS a
    WHERE h.state = 'read' AND (len(a.tokens) = 0 OR list_has_all(w.words, a.tokens))
        AND (a.family IS NULL OR list_contains(w.words, a.family) OR list_has_all(w.words, a.family_parts))
),
looked_at AS MATERIALIZED (
    SELECT s.*, h.file, h.title, h.edition, coalesce(nullif(s.maker, ''), nullif(h.maker, '')) AS shown_maker,
        coalesce(len(s.amps), 0) > 0 AS amps_said, coalesce(list_contains(s.says, a.curve), false) AS curve_said,
        len(list_filter(coalesce(s.amps, []), lambda x: x.low <= a.amps AND a.amps <= x.high)) > 0 AS amps_fit,
        len(s.roles) = 0 AS unnamed, list_has_any(s.roles, side_roles()) AS sided,
        coalesce(list_has_any(s.says, ['top', 'bottom']), false) AS placed
    FROM setting AS s JOIN near_sheet AS h ON h.number = s.sheet_number, asked AS a
    WHERE s.state IN ('released', 'held', 'rejected')
      AND (s.purpose = a.purpose OR (a.purpose = 'no_terminal' AND s.purpose <> 'electrical_terminal'))
      AND has_all(s.all_words, a.tokens)
      AND (a.family IS NULL OR list_contains(s.says, a.family) OR s.family = a.family OR has_phrase(s.device_words, a.family_words))
      AND (a.maker_words IS NULL OR has_phrase(s.maker_words, a.maker_words))
      AND (a.series_words IS NULL OR has_phrase(s.series_words, a.series_words))
      AND (a.curve IS NULL OR list_contains(s.says, a.curve)
          OR len(list_filter(coalesce(s.says, []), lambda c: starts_with(c, 'curve_'))) = 0)
),
-- What each row is to the question, and what the steps behind ask of it: none of them needs the question again.
told AS (
    SELECT s.sheet, s.id, s.device_printed, s.model, s.terminal_printed, s.roles, s.ferrule, s.state, s.placed,
        s.amps_said, s.amps_fit, s.curve_said, a.amps IS NULL OR s.amps_fit AS amps_suit, a.curve IS NULL OR s.curve_said OR a.typed AS curve_suits,
        NOT s.amps_said AND a.typed AS typed, NOT s.amps_said AND a.family IS NOT NULL AS of_kind, a.ferrule IS NULL AS any_ferrule,
        CASE
            WHEN a.part IS NOT NULL AND (s.placed OR NOT a.position) AND NOT coalesce(list_contains(s.says, a.part), false) THEN NULL
            WHEN a.position AND NOT s.placed THEN CASE
                WHEN a.roles IS NULL AND (s.unnamed OR s.sided OR list_has_any(s.said, ['line', 'main', 'neutral', 'earth'])) THEN 'elsewhere' END
            WHEN a.part IS NOT NULL AND (a.roles IS NULL OR s.unnamed) THEN 'label'
            WHEN a.terminal IS NULL AND a.roles IS NULL
                THEN CASE WHEN is_limit_for_all(s.any_terminal, s.limit_nm, s.min_nm, s.max_nm) THEN 'any' ELSE 'unasked' END
            WHEN has_phrase(s.terminal_words, a.label) AND (a.roles IS NULL OR s.unnamed OR list_has_all(s.said, a.roles)) THEN 'label'
            WHEN other_marking(s.terminal_printed, s.terminal_words, a.marking) THEN NULL
            WHEN a.roles IS NOT NULL AND NOT s.unnamed AND list_has_all(s.said, a.roles)
                THEN CASE WHEN list_has_all(s.roles, list_filter(a.roles, lambda r: NOT list_contains(a.wider, r))) THEN 'role' ELSE 'narrower' END
            WHEN a.or_roles IS NOT NULL AND NOT s.unnamed AND NOT s.sided AND list_has_all(s.said, a.or_roles)
                AND list_has_all(s.roles, list_filter(a.or_roles, lambda r: NOT list_contains(a.or_wider, r))) THEN 'or_role'
            WHEN a.roles IS NOT NULL AND NOT s.unnamed AND NOT (s.sided AND a.sided) AND (
                CASE WHEN len(a.of_conductors) = 0 THEN list_has_any(s.roles, a.wider)
                ELSE list_has_all(s.said, a.of_conductors) OR list_has_any(s.roles, wider_roles(a.of_conductors)) END) THEN 'wider'
            WHEN s.any_terminal THEN 'any'
            WHEN a.sided AND len(a.of_conductors) = 0 AND s.placed AND s.unnamed THEN 'elsewhere'
        END AS terminal_fit,
        CASE
            WHEN a.mm2 IS NULL AND a.gauge IS NULL THEN 'unasked'
            WHEN a.mm2 IS NOT NULL AND s.system IS DISTINCT FROM 'diameter' AND coalesce(s.min_mm2, s.max_mm2) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_mm2 <= a.mm2, true) AND coalesce(s.max_mm2 >= a.mm2, true) THEN 'size' ELSE 'outside' END
            WHEN a.gauge IS NOT NULL AND coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN CASE WHEN coalesce(s.min_gauge <= a.gauge, true) AND coalesce(s.max_gauge >= a.gauge, true) THEN 'size' ELSE 'outside' END
            WHEN coalesce(s.min_mm2, s.max_mm2) IS NOT NULL OR coalesce(s.min_gauge, s.max_gauge) IS NOT NULL
                THEN 'other_system'
            WHEN regexp_matches(s.conductor_printed, '[0-9]') THEN 'unread'
            ELSE 'unsized'
        END AS fit,
        CASE WHEN a.state IS NULL THEN s.state IN ('released', 'held') ELSE s.state = a.state END
            AND (a.conductors IS NULL OR coalesce(s.conductor_count, 1) = a.conductors)
            AND (a.material IS NULL OR len(s.material) = 0 OR list_contains(s.material, a.material))
            AND NOT (coalesce(a.material = 'aluminium', false) AND coalesce(list_contains(s.conditions, 'no_aluminium'), false))
            AND (a.stranding IS NULL OR len(s.stranding) = 0 OR list_contains(s.stranding, a.stranding))
            AND (a.ferrule IS NULL OR s.ferrule IS NULL OR s.ferrule = a.ferrule)
            AND NOT (coalesce(a.ferrule, false) AND s.stranding = ['solid']) AS suits,
        a.roles IS NOT NULL AND NOT list_has_all(list_concat(a.roles, a.wider), s.roles) AS says_more,
        regexp_matches(a.terminal, '[0-9]') AS marked,
        list_filter(s.roles, lambda r: NOT list_contains(a.roles, r) AND NOT list_has_any(wider_roles([r]), a.roles)) AS others,
        a.sided AND list_has_any(side_roles(), list_filter(s.roles, lambda r: NOT list_contains(a.roles, r))) AS other_side
    FROM looked_at AS s, asked AS a
),
-- A rated current or characteristic that is not printed: the row answers who names its type, and one whose
-- characteristic is not printed stands beside others; where a kind of device is named and none prints a current, too.
rated AS (
    SELECT r.* EXCLUDE (amps_said, amps_fit, curve_said, amps_suit, curve_suits, typed, of_kind, some_amps, some_fit, some_curve)
    FROM (SELECT *, max(amps_said) OVER () AS some_amps, max(amps_fit) OVER () AS some_fit,
              max(curve_said) OVER () AS some_curve
          FROM told) AS r
    WHERE (r.amps_suit OR (NOT r.some_fit AND (r.typed OR (r.of_kind AND NOT r.some_amps))))
      AND (r.curve_suits OR r.some_curve)
),
-- "Main circuit" beside "line" is no figure for the load: the sheet parts what the wider word leaves open.
ranked AS (
    SELECT n.* EXCLUDE (named, some_side, others, other_side, marked, placed),
        CASE
            WHEN n.terminal_fit IN ('unasked', 'label') THEN 0
            WHEN n.terminal_fit IN ('role', 'narrower') THEN CASE WHEN n.marked THEN 1 ELSE 0 END
            WHEN n.terminal_fit = 'any' THEN 3
            WHEN n.terminal_fit = 'elsewhere' OR (n.terminal_fit = 'wider' AND n.placed) THEN 4
            ELSE 2
        END AS distance
    FROM (SELECT r.*, list(r.others) OVER (PARTITION BY r.sheet, r.device_printed, r.model) AS named,
              max(r.other_side) OVER (PARTITION BY r.sheet, r.device_printed, r.model) AS some_side
          FROM rated AS r) AS n
    WHERE n.terminal_fit IS NOT NULL
      AND NOT (n.terminal_fit = 'wider' AND (n.some_side
            OR len(list_filter(flatten(n.named), lambda r: list_has_any(wider_roles([r]), n.roles))) > 0))
),
-- Of each device the rows that come nearest to the terminal asked for, whatever their conductor and state.
nearest AS (
    SELECT r.* EXCLUDE (suits, distance)
    FROM ranked AS r
    QUALIFY r.suits AND r.distance = min(r.distance) OVER (PARTITION BY r.sheet, r.device_printed, r.model)
      AND (r.distance < 4 OR min(r.distance) OVER () = 4)
),
-- Where a terminal has a row for ferrules, that one is meant, and not one that says nothing of them.
ferruled AS (
    SELECT f.* EXCLUDE (some_ferrule, any_ferrule)
    FROM (SELECT n.*, max(n.ferrule IS NOT NULL) OVER (PARTITION BY n.sheet, n.device_printed, n.model, n.terminal_printed) AS some_ferrule
          FROM nearest AS n) AS f
    WHERE f.any_ferrule OR f.ferrule IS NOT NULL OR NOT f.some_ferrule
),
-- The figure of one side or conductor is no answer for more while another's is held.
parted AS MATERIALIZED (
    SELECT f.sheet, f.id, f.fit, f.terminal_fit
    FROM (SELECT e.*, e.state = 'held' AND e.fit NOT IN ('outside', 'other_system') AS waits FROM ferruled AS e) AS f
    QUALIFY NOT (f.state = 'released' AND (f.terminal_fit = 'elsewhere' OR f.says_more)
        AND count(*) FILTER (WHERE f.waits) OVER (PARTITION BY f.sheet, f.device_printed, f.model)
        > count(*) FILTER (WHERE f.waits) OVER (PARTITION BY f.sheet, f.device_printed, f.model, list_sort(f.roles)))
)
SELECT p.fit, p.terminal_fit, s.amps_said, s.curve_said, s.id, s.state, s.purpose, s.shown_maker AS maker, s.family,
    s.series, s.model, s.device_printed, s.rated_current, s.terminal_printed, s.roles, s.any_terminal, s.clamp, s.thread, s.drive,
    s.conductor_printed, s.system, s.min_mm2, s.max_mm2, s.min_awg, s.max_awg, s.material, s.stranding, s.ferrule,
    s.conductor_count, s.conditions, CASE WHEN s.state = 'released' THEN s.torque_printed END AS torque_printed,
    CASE WHEN s.state = 'released' THEN s.unit_printed END AS unit_printed, s.min_nm, s.nominal_nm, s.max_nm, s.limit_nm,
    s.file, s.title, s.edition, s.page, s.table_number, s.row_number,
    CASE WHEN s.state = 'released' THEN s.place_text END AS place_text,
    CASE WHEN s.state = 'released' THEN s.evidence END AS evidence, s.missing,
    CASE WHEN s.state = 'released' THEN s.scope END AS scope,
    s.sheet, s.number, s.min_gauge, s.max_gauge, s.device_words, s.terminal_words, s.all_words, s.says, s.amps,
    f.findings, d.verdict, d.who, d.decided_at, d.why, d.torque_given
FROM looked_at AS s
JOIN parted AS p ON p.sheet = s.sheet AND p.id = s.id
LEFT JOIN (
    SELECT k.sheet, k.setting, list({'code': k.code, 'message': k.message} ORDER BY k.number) AS findings
    FROM finding AS k JOIN parted AS m ON m.sheet = k.sheet AND m.id = k.setting GROUP BY k.sheet, k.setting
) AS f ON f.sheet = s.sheet AND f.setting = s.id
LEFT JOIN last_decision AS d ON d.sheet = s.sheet AND d.setting = s.id AND s.state <> 'held'
ORDER BY
    list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], p.fit),
    s.state DESC, s.shown_maker, s.file, s.page, s.number;
COMMENT ON MACRO TABLE find_setting IS 'The rows that bear on a question, as torquary find takes them: FROM find_setting(family := ''mcb'', roles := [''load_out''], mm2 := 10). fit: size (the printed range holds the size), unasked (no size in the question), unsized (no size printed), outside (printed in this system, but not this size), other_system (printed in another system only), unread. roles: all of them are asked for, a side and a conductor. terminal_fit: unasked, label (the words of terminal stand in the label), role, or_role (the second meaning asked for, or_roles), narrower (it says more) or wider (it says less: a conductor without its side, the main circuit), any (the sheet names no terminal in particular; a limit for all terminals, where none is asked for) or elsewhere (top or bottom was asked and the sheet prints sides, or the other way round: never where something comes nearer); of each device only the rows that come nearest. purpose (no_terminal: any but a terminal''s) and state (''rejected'') ask for what is no answer. What a row does not say of material, stranding or ferrule fits any. part: top, bottom or pulse_output. amps and curve (curve_b): rated current and characteristic of the device; amps_said and curve_said tell whether the sheet prints them. Only released rows show a torque; several rows may differ. A row with limit_nm and no other figure is a limit (not more than that), never a setting.';
