-- Asking in words, for programs that open the file: the words are taken as torquary find takes them (find/question.py,
-- find/words.py), which tests compare. RE2 knows no lookbehind: a sign before and behind is read with each match, and
-- signs between words are doubled, so that each match has its own.
CREATE MACRO understand_words(typed) AS TABLE
WITH RECURSIVE text AS (
    SELECT ' ' || regexp_replace(regexp_replace(typed::VARCHAR, '[\s\pZ]', ' ', 'g'), '([ +;|()&"])', '\1\1', 'g') || ' ' AS t
),
form AS (
    SELECT '(?i)([^\pL\pN_.,/])(?:([1-9])\s*[x×]\s*)?([0-9]+(?:[.,][0-9]+)?)\s*(?:mm\s*(?:2|²|\^2)|sq\.?\s*mm|mm\s*sq|qmm|mmq|mm|sq|carr[ée]s?|quadrat)([^\pL\pN_])' AS mm2,
        '(?i)([^\pL\pN_.,/])(?:([1-9])\s*[x×]\s*)?(?:(?:AWG\s*[-#]?\s*|#\s*)([1-4]/0|0{3,4}|5[0-6]|[0-4]?[0-9])([^\pL\pN_.,/])|([1-4]/0|0{3,4}|5[0-6]|[0-4]?[0-9])\s*-?\s*AWG([^\pL\pN_])|([0-9]{2,4}(?:[.,][0-9]+)?)\s*(?:kcmil|MCM)([^\pL\pN_]))' AS gauge,
        '([^\pL\pN_.,/-])(?:[BCDKZ](?:  )?|[bcdkz])([0-9]{1,3})([^\pL\pN_.,/])' AS curve,
        '([^\pL\pN_.,/])([0-9]{1,4}(?:[.,][0-9])?)(?:\s*A|a|\s*(?:amps?|ampere|ampère|amperes|amperios|amper|ampère?s))([^\pL\pN_])' AS amps
),
sized AS (
    SELECT t, f.*, len(regexp_extract_all(t, f.mm2)) + len(regexp_extract_all(t, f.gauge)) AS sizes,
        replace(nullif(regexp_extract(t, f.mm2, 3), ''), ',', '.') AS size,
        try_cast(nullif(regexp_extract(t, f.mm2, 2) || regexp_extract(t, f.gauge, 2), '') AS INTEGER) AS count,
        nullif(regexp_extract(t, f.gauge, 3) || regexp_extract(t, f.gauge, 5), '') AS number,
        replace(nullif(regexp_extract(t, f.gauge, 7), ''), ',', '.') || ' kcmil' AS kcmil,
        regexp_replace(regexp_replace(t, f.mm2, '\1 \4'), f.gauge, '\1 \4\6\8') AS rest
    FROM text, form AS f
),
checked AS (
    SELECT *, CASE
            WHEN sizes > 1 THEN error('two conductor sizes are asked for: ask for one at a time')
            WHEN size::DOUBLE NOT BETWEEN 0.001 AND 10000 THEN error(size || ' mm² is no size of a conductor: write it like 10 mm2')
            ELSE rest
        END AS unsized,
        CASE WHEN kcmil IS NOT NULL THEN kcmil WHEN regexp_full_match(number, '0+') THEN len(number) || '/0'
             WHEN contains(number, '/') THEN number ELSE number::INTEGER::VARCHAR END AS awg
    FROM sized
),
-- A type that is printed so is a type: "C16".
curves AS (
    SELECT u.t, lower(regexp_extract(u.t, '[BCDKZbcdkz]')) AS curve, regexp_extract(u.t, '[0-9]+')::INTEGER AS amps
    FROM (SELECT unnest(regexp_extract_all(unsized, curve)) AS t FROM checked) AS u
),
ratings AS (
    SELECT v.t, v.curve, v.amps::VARCHAR AS amps FROM curves AS v
    WHERE v.amps IN (1, 2, 3, 4, 6, 8, 10, 13, 15, 16, 20, 25, 30, 32, 35, 40, 45, 50, 60, 63, 70, 80, 90, 100, 110, 125)
        AND NOT EXISTS (FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number
            WHERE h.state = 'read' AND w.word = v.curve || v.amps)
    UNION ALL
    SELECT u.t, NULL, regexp_replace(replace(regexp_extract(u.t, '[0-9]+(?:[.,][0-9])?'), ',', '.'), '^0+([0-9])', '\1')
    FROM (SELECT unnest(regexp_extract_all(unsized, amps)) AS t FROM checked) AS u
),
rated AS (
    SELECT c.size, c.awg, c.count, r.curve, r.amps, CASE WHEN r.t IS NULL THEN c.unsized
        ELSE left(c.unsized, strpos(c.unsized, r.t) - 1) || '   ' || substr(c.unsized, strpos(c.unsized, r.t) + len(r.t) - 1) END AS rest
    FROM checked AS c LEFT JOIN (
        SELECT q.* FROM ratings AS q, checked AS k ORDER BY strpos(k.unsized, q.t), q.curve IS NULL LIMIT 1) AS r ON true
),
-- A decimal mark between figures is p.
spoken AS (
    SELECT list_filter(string_split(fold_text(regexp_replace(regexp_replace(rest, '([0-9])[.,]([0-9])', '\1p\2', 'g'),
        '([0-9])[.,]([0-9])', '\1p\2', 'g')), ' '), lambda w: w <> '') AS tokens
    FROM rated
),
-- Every run of up to eight words, and what it means: of each kind the narrowest.
run AS (
    SELECT DISTINCT array_to_string(s.tokens[a.first:a.first + b.length - 1], ' ') AS phrase
    FROM spoken AS s, unnest(range(1, len(s.tokens) + 1)) AS a(first), unnest(range(1, 9)) AS b(length)
    WHERE a.first + b.length - 1 <= len(s.tokens)
),
met AS (
    SELECT r.phrase, k.kind, k.concept, k.fit, CASE WHEN k.kind = 'role' THEN wider_roles([k.concept]) ELSE [] END AS wider
    FROM run AS r JOIN known_word AS k ON k.spelling = r.phrase WHERE k.fit IN ('whole', 'marking')
    UNION ALL
    SELECT r.phrase, k.kind, k.concept, k.fit, CASE WHEN k.kind = 'role' THEN wider_roles([k.concept]) ELSE [] END
    FROM run AS r JOIN known_word AS k ON k.fit NOT IN ('whole', 'marking') AND NOT contains(r.phrase, ' ')
        AND CASE k.fit WHEN 'starts' THEN starts_with(r.phrase, k.spelling) WHEN 'ends' THEN ends_with(r.phrase, k.spelling)
            ELSE contains(r.phrase, k.spelling) END
),
best AS (
    SELECT m.phrase, m.kind, list({'concept': m.concept, 'wider': m.wider} ORDER BY m.fit = 'marking', -len(m.wider), m.concept) AS found
    FROM met AS m GROUP BY m.phrase, m.kind
),
known AS (
    SELECT b.phrase, list_sort(list(b.kind)) AS kinds, bool_or(b.kind = 'family') AS is_family, bool_or(b.kind = 'role') AS is_role,
        list({'kind': b.kind, 'concept': b.found[1].concept}
            ORDER BY list_position(['purpose', 'part', 'family', 'role', 'material', 'stranding', 'ferrule', 'wish'], b.kind)) AS meanings,
        max(CASE WHEN b.kind = 'role' THEN list_filter(list_transform(b.found, lambda f: f.concept),
            lambda c: list_contains(b.found[1].wider, c))[1] END) AS or_role
    FROM best AS b GROUP BY b.phrase
),
-- Two neighbours that are one type: "LH 125", "32 XB"; letters that mean something are joined where they are printed.
pair AS (
    SELECT a.pos, s.tokens[a.pos] AS one, s.tokens[a.pos + 1] AS two
    FROM spoken AS s, unnest(range(1, len(s.tokens))) AS a(pos)
),
ahead AS (
    SELECT p.pos, p.one || p.two AS joined, p.one, regexp_full_match(p.two, '[0-9]+(?:p[0-9]+)?') AS is_number FROM pair AS p
    WHERE regexp_full_match(p.one, '[\pL\p{Nl}\p{No}]+') AND regexp_full_match(p.two, '[0-9]+(?:p[0-9]+)?|[\pL\p{Nl}\p{No}]+[0-9][0-9p]*')
),
behind AS (
    SELECT p.pos, p.two || p.one AS joined FROM pair AS p
    WHERE regexp_full_match(p.two, '[\pL\p{Nl}\p{No}]+') AND regexp_full_match(p.one, '[0-9]+(?:p[0-9]+)?')
),
printed AS (
    SELECT DISTINCT w.word FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number
    WHERE h.state = 'read' AND w.word IN (SELECT joined FROM ahead UNION ALL SELECT joined FROM behind)
),
type_at AS (
    SELECT a.pos, a.joined FROM ahead AS a LEFT JOIN known AS k ON k.phrase = a.one
    WHERE CASE WHEN a.joined IN (SELECT word FROM printed) THEN k.kinds IS NULL OR k.kinds = ['wish']
          ELSE a.is_number AND k.kinds IS NULL AND len(a.one) <= 4 END
    UNION ALL
    SELECT b.pos, b.joined FROM behind AS b
    WHERE b.joined IN (SELECT word FROM printed) AND b.pos + 1 NOT IN (SELECT pos FROM ahead)
        AND b.pos NOT IN (SELECT pos FROM ahead)
),
joining AS (
    SELECT 1::BIGINT AS pos, []::VARCHAR[] AS tokens
    UNION ALL
    SELECT j.pos + CASE WHEN y.pos IS NULL THEN 1 ELSE 2 END, list_append(j.tokens, coalesce(y.joined, s.tokens[j.pos]))
    FROM joining AS j JOIN spoken AS s ON j.pos <= len(s.tokens) LEFT JOIN type_at AS y ON y.pos = j.pos
),
joined AS (SELECT tokens FROM joining ORDER BY pos DESC LIMIT 1),
-- The longest run that means something is taken first, and means the first thing that is not asked for yet.
span AS (
    SELECT a.first, b.length, k.*
    FROM joined AS s, unnest(range(1, len(s.tokens) + 1)) AS a(first), unnest(range(1, 9)) AS b(length)
    JOIN known AS k ON k.phrase = array_to_string(s.tokens[a.first:a.first + b.length - 1], ' ')
    WHERE a.first + b.length - 1 <= len(s.tokens)
),
-- A "neutral bar" of a device that another word names is a terminal and no device.
item AS (
    SELECT row_number() OVER (ORDER BY p.length DESC, p.first) AS n, p.phrase, p.or_role, range(p.first, p.first + p.length) AS places,
        list_filter(p.meanings, lambda m: m.kind <> 'family' OR NOT p.is_role OR NOT p.beside) AS meanings
    FROM (SELECT s.*, EXISTS (FROM span AS o WHERE o.is_family AND (o.first + o.length <= s.first OR s.first + s.length <= o.first)) AS beside
          FROM span AS s) AS p
),
walk AS (
    SELECT 0::BIGINT AS n, []::BIGINT[] AS taken, NULL::VARCHAR AS family, NULL::VARCHAR AS part, NULL::VARCHAR AS purpose,
        NULL::VARCHAR AS material, NULL::VARCHAR AS stranding, NULL::BOOLEAN AS ferrule, []::VARCHAR[] AS roles,
        NULL::VARCHAR[] AS or_roles, '' AS terminal, false AS asks_bit
    UNION ALL
    SELECT w.n + 1, CASE WHEN w.kind IS NULL THEN w.taken ELSE list_concat(w.taken, w.places) END,
        CASE WHEN w.kind = 'family' THEN w.concept ELSE w.family END, CASE WHEN w.kind = 'part' THEN w.concept ELSE w.part END,
        CASE WHEN w.kind = 'purpose' THEN w.concept ELSE w.purpose END,
        CASE WHEN w.kind = 'material' THEN w.concept ELSE w.material END,
        CASE WHEN w.kind = 'stranding' THEN w.concept ELSE w.stranding END,
        CASE WHEN w.kind = 'ferrule' AND w.concept IN ('with', 'without') THEN w.concept = 'with' ELSE w.ferrule END,
        CASE WHEN w.kind = 'role' THEN list_append(w.roles, w.concept) ELSE w.roles END,
        CASE WHEN w.kind = 'role' AND (w.or_role IS NOT NULL OR w.or_roles IS NOT NULL)
            THEN CASE WHEN list_contains(coalesce(w.or_roles, w.roles), coalesce(w.or_role, w.concept)) THEN coalesce(w.or_roles, w.roles)
                 ELSE list_append(coalesce(w.or_roles, w.roles), coalesce(w.or_role, w.concept)) END
            ELSE w.or_roles END,
        CASE WHEN w.kind <> 'role' OR w.kind IS NULL THEN w.terminal
             WHEN regexp_matches(w.terminal, '[0-9]$') THEN w.phrase || ' ' || w.terminal
             ELSE trim(w.terminal || ' ' || w.phrase) END,
        w.asks_bit OR coalesce(w.kind = 'wish' AND w.concept = 'bit', false)
    FROM (
        SELECT x.*, x.chosen.kind AS kind, x.chosen.concept AS concept
        FROM (SELECT v.*, i.places, i.phrase, i.or_role, CASE WHEN list_has_any(v.taken, i.places) THEN NULL ELSE list_filter(i.meanings,
                lambda m: CASE m.kind
                    WHEN 'role' THEN len(v.roles) = 0 OR (len(v.roles) = 1
                        AND list_contains(side_roles(), v.roles[1]) <> list_contains(side_roles(), m.concept))
                    WHEN 'family' THEN v.family IS NULL WHEN 'part' THEN v.part IS NULL WHEN 'purpose' THEN v.purpose IS NULL
                    WHEN 'material' THEN v.material IS NULL WHEN 'stranding' THEN v.stranding IS NULL
                    WHEN 'ferrule' THEN v.ferrule IS NULL ELSE true END)[1] END AS chosen
              FROM walk AS v JOIN item AS i ON i.n = v.n + 1) AS x) AS w
),
parsed AS (
    SELECT w.*, r.size, r.awg, r.count, r.curve, r.amps,
        list_filter(s.tokens, lambda word, pos: NOT list_contains(w.taken, pos)) AS free
    FROM walk AS w, joined AS s, rated AS r ORDER BY w.n DESC LIMIT 1
),
-- One bare number among the words left is a nominal cross-section of IEC 60228 (from memory), or no size.
numbered AS (
    SELECT *, CASE WHEN size IS NULL AND awg IS NULL AND len(list_filter(free, lambda w: regexp_full_match(w, '[0-9]+(?:p[0-9]+)?'))) = 1
        AND list_contains([0.5, 0.75, 1.5, 2.5, 1, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300]::DECIMAL(9, 3)[],
            try_cast(replace(list_filter(free, lambda w: regexp_full_match(w, '[0-9]+(?:p[0-9]+)?'))[1], 'p', '.') AS DECIMAL(9, 3)))
        THEN list_filter(free, lambda w: regexp_full_match(w, '[0-9]+(?:p[0-9]+)?'))[1] END AS bare
    FROM parsed
)
SELECT CASE WHEN coalesce(n.family, n.part, n.purpose, n.material, n.stranding, n.ferrule::VARCHAR, n.size, n.awg, n.amps,
            nullif(n.terminal, ''), nullif(array_to_string(n.free, ' '), '')) IS NULL
        THEN error('nothing was asked: name a device, a terminal or a size')
        ELSE nullif(array_to_string(list_filter(n.free, lambda w: w IS DISTINCT FROM n.bare), ' '), '') END AS words,
    n.family, nullif(n.terminal, '') AS terminal, nullif(n.roles, []) AS roles, n.or_roles, n.part,
    coalesce(n.size, replace(n.bare, 'p', '.'))::DECIMAL(38, 24) AS mm2, n.awg, n.count AS conductors, n.amps::DOUBLE AS amps,
    'curve_' || n.curve AS curve, n.material, n.stranding, n.ferrule, n.purpose, n.asks_bit
FROM numbered AS n;
COMMENT ON MACRO TABLE understand_words IS 'How typed words are taken, one row: the arguments of find_setting that they mean; words are those left, looked for in what is printed. Two sizes, and a size that is none of a conductor, are an error.';

-- Words that no sheet in force prints are left out where the others name a type and its terminal, as find does.
CREATE MACRO find_words(typed) AS TABLE
WITH taken AS MATERIALIZED (FROM understand_words(typed)),
loose AS (
    SELECT t.*, string_split(coalesce(t.words, ''), ' ') AS free, list_filter(string_split(coalesce(t.words, ''), ' '),
        lambda w: w <> '' AND NOT list_contains(p.words, w)) AS strange
    FROM taken AS t, (
        SELECT coalesce(list(DISTINCT w.word), []) AS words FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number
        WHERE h.state = 'read' AND w.word IN (SELECT unnest(string_split(words, ' ')) FROM taken)) AS p
),
meant AS MATERIALIZED (
    SELECT l.* EXCLUDE (words, free), list_filter(l.free, lambda w: NOT list_contains(l.strange, w)) AS rest,
        len(list_filter(l.strange, lambda w: regexp_matches(w, '\p{Nd}') AND regexp_matches(w, '\pL'))) = 0
            AND len(list_filter(l.free, lambda w: regexp_matches(w, '\p{Nd}') AND regexp_matches(w, '\pL'))) > 0 AS typed_known,
        l.words
    FROM loose AS l
)
SELECT f.*
FROM find_setting(
    words := (SELECT CASE WHEN m.typed_known THEN nullif(array_to_string(m.rest, ' '), '') ELSE m.words END FROM meant AS m),
    family := (SELECT m.family FROM meant AS m), terminal := (SELECT m.terminal FROM meant AS m),
    roles := (SELECT m.roles FROM meant AS m), or_roles := (SELECT m.or_roles FROM meant AS m),
    part := (SELECT m.part FROM meant AS m), mm2 := (SELECT m.mm2 FROM meant AS m), awg := (SELECT m.awg FROM meant AS m),
    conductors := (SELECT m.conductors FROM meant AS m), amps := (SELECT m.amps FROM meant AS m),
    curve := (SELECT m.curve FROM meant AS m), material := (SELECT m.material FROM meant AS m),
    stranding := (SELECT m.stranding FROM meant AS m), ferrule := (SELECT m.ferrule FROM meant AS m),
    purpose := (SELECT m.purpose FROM meant AS m)
) AS f, meant AS n
QUALIFY len(n.strange) = 0 OR (
    (n.terminal IS NOT NULL OR n.part IS NOT NULL
        OR bool_and(list_has_any(string_split(lower(f.terminal_printed), ' '), n.rest)) OVER ())
    AND bool_or(f.fit IN ('size', 'unasked', 'unsized')) OVER ())
ORDER BY list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], f.fit),
    f.state DESC, f.maker, f.file, f.page, f.number;
COMMENT ON MACRO TABLE find_words IS 'The rows that torquary find looks at for typed words: FROM find_words(''mcb 10mm2 outgoing''). The columns are those of find_setting; understand_words tells how the words are taken. Released rows with fit size, unasked or unsized answer; held ones among them have no figure, and wait for a decision; outside and other_system are beside the question, and never its answer. A word that nobody knows gives no row, unless the other words name a type and its terminal.';
