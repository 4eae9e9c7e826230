-- Small functions that loading and asking share, so that both fold and order alike.
CREATE MACRO fold_text(printed) AS
    trim(regexp_replace(lower(strip_accents(nfc_normalize(printed))), '[^\p{L}\p{N}]+', ' ', 'g'));
COMMENT ON MACRO fold_text IS 'Text as it is compared: small letters, no accents, one blank between words.';

-- Making ready to fold takes longer than folding: several texts at once take as long as one.
CREATE MACRO fold_each(printed) AS list_transform(printed::VARCHAR[], lambda p: fold_text(p));
COMMENT ON MACRO fold_each IS 'fold_text of each of a list of texts.';

-- The same for a question, whose words are mostly folded already: an expression for all letters takes a tenth of the
-- question to make ready, and is, whether it is used or not, unless it hangs on the text.
CREATE MACRO fold_asked(printed) AS list_transform(printed::VARCHAR[], lambda p: CASE
    WHEN translate(p, 'abcdefghijklmnopqrstuvwxyz0123456789 ', '') = '' AND trim(p) = p AND NOT contains(p, '  ') THEN p
    ELSE trim(regexp_replace(lower(strip_accents(nfc_normalize(p))), '[^\p{L}\p{N}]+' || left(p, 0), ' ', 'g')) END);
COMMENT ON MACRO fold_asked IS 'fold_each for texts that are mostly folded already.';

-- "TQ-16" is found as "TQ 16" and as "TQ16".
CREATE MACRO leave_out_hyphens(printed) AS regexp_replace(printed, '(\S)[-/._](\S)', '\1\2', 'g');
COMMENT ON MACRO leave_out_hyphens IS 'Names without the hyphens and the like within them.';

CREATE MACRO fold_names(printed) AS fold_text(printed) || ' ' || fold_text(leave_out_hyphens(printed));
COMMENT ON MACRO fold_names IS 'fold_text of names, with hyphens and the like as a blank and as nothing.';

-- "XB 32" and "XB32", "MGN 2.5" and "MGN2.5" are one name each; "HT6 6 A" is not "HT66".
CREATE MACRO join_types(printed) AS regexp_replace(
    regexp_replace(nfc_normalize(printed), '(\d)[.,](\d)', '\1p\2', 'g'), '(\p{L})[\s._/-]*(\d)', '\1\2', 'g');
COMMENT ON MACRO join_types IS 'Names with the figures of a type joined to its letters, a decimal mark between them as p: xb32, mgn2p5.';

-- "6 A to 63 A", "6 bis 32 A" and "16 A, 20 A".
CREATE MACRO amps_of(printed) AS list_concat(
    list_transform(
        regexp_extract_all(printed, '[0-9]+(?:[.,][0-9]+)?\s*A?\s*(?:-|–|—|~|…|\.{2,3}|to|bis|à|a|do|tot|till|til)\s*[0-9]+(?:[.,][0-9]+)?\s*A\b'),
        lambda span: {'low': replace(regexp_extract_all(span, '[0-9]+(?:[.,][0-9]+)?')[1], ',', '.')::DOUBLE,
                      'high': replace(regexp_extract_all(span, '[0-9]+(?:[.,][0-9]+)?')[2], ',', '.')::DOUBLE}),
    list_transform(
        regexp_extract_all(printed, '[0-9]+(?:[.,][0-9]+)?\s*A\b'),
        lambda one: {'low': replace(regexp_extract(one, '[0-9.,]+'), ',', '.')::DOUBLE,
                     'high': replace(regexp_extract(one, '[0-9.,]+'), ',', '.')::DOUBLE}));
COMMENT ON MACRO amps_of IS 'Rated currents in amperes that a text prints: single ones, and ranges.';

-- Preferred rated currents of IEC 60898-1 and IEC 60947, from memory.
CREATE MACRO types_of(printed) AS array_to_string(flatten(list_transform(
    regexp_extract_all(printed, '(?:^|[\s(/])\p{L}+\s+[0-9]+\s*A?\s*(?:-|–|—|to|bis|à|a|do|tot|till|til)\s*[0-9]+\s*A\b'),
    lambda span: list_transform(
        list_filter([1, 2, 3, 4, 5, 6, 8, 10, 13, 15, 16, 20, 25, 30, 32, 35, 40, 45, 50, 60, 63, 70, 80, 90, 100, 110, 125, 150, 160, 175, 200, 225, 250],
            lambda a: len(regexp_extract(span, '\p{L}+')) <= 4 AND a BETWEEN regexp_extract_all(span, '[0-9]+')[1]::INTEGER AND regexp_extract_all(span, '[0-9]+')[2]::INTEGER),
        lambda a: fold_text(regexp_extract(span, '\p{L}+')) || a))), ' ');
COMMENT ON MACRO types_of IS 'The types that a range of them says: "ZB 6 to 32 A" says zb16.';

CREATE MACRO curves_of(folded) AS list_concat(
    list_transform(regexp_extract_all(folded, '(?:^| )([bcdkz]) (?:characteristic|charakteristik|curve)', 1), lambda c: 'curve_' || c),
    list_transform(
        list_filter(string_split(array_to_string(regexp_extract_all(folded,
            '(?:charact|charakt|karakter|caract|caratter|curve|courbe|curva|kurva)\p{L}*((?: (?:and|und|et|y|e|i|och|en|o|oder|or|ou|lub|[bcdkz]))+)', 1), ' '), ' '),
            lambda c: c IN ('b', 'c', 'd', 'k', 'z')),
        lambda c: 'curve_' || c));
COMMENT ON MACRO curves_of IS 'The tripping characteristics (IEC 60898-1) that a folded text names: curve_b, curve_c.';

CREATE MACRO phrases_of(folded) AS flatten(list_transform(range(1, 6), lambda n: list_transform(
    range(1, len(string_split(folded, ' ')) - n + 2),
    lambda i: array_to_string(string_split(folded, ' ')[i:i + n - 1], ' '))));
COMMENT ON MACRO phrases_of IS 'Every run of one to five words of a folded text.';

CREATE MACRO keys_of(found, kind) AS list_transform(
    list_filter(coalesce(found, []::VARCHAR[]), lambda f: starts_with(f, kind || ':')), lambda f: split_part(f, ':', 2));
COMMENT ON MACRO keys_of IS 'The keys of one kind among texts like family:mcb.';

CREATE MACRO bars_in(found) AS list_filter(keys_of(found, 'family'), lambda f: f IN ('neutral_bar', 'earth_bar'));
COMMENT ON MACRO bars_in IS 'The kinds of bar among texts like family:earth_bar.';

CREATE MACRO asked_families(family) AS CASE
    WHEN family IN ('mcb', 'mccb', 'afdd') THEN ['breaker']
    WHEN family = 'rcbo' THEN ['breaker', 'residual']
    WHEN family = 'rccb' THEN ['residual'] ELSE []::VARCHAR[] END;
COMMENT ON MACRO asked_families IS 'The wider words that people ask for a family with: any circuit-breaker, any residual-current device.';

CREATE MACRO has_words(folded, asked) AS contains(' ' || folded || ' ', ' ' || fold_text(asked) || ' ');
COMMENT ON MACRO has_words IS 'Whether the words asked for stand in a folded text, whole and in this order.';

-- The same with words that are folded already: folding once is much cheaper than in every row.
CREATE MACRO has_phrase(folded, phrase) AS contains(' ' || folded || ' ', ' ' || phrase || ' ');
COMMENT ON MACRO has_phrase IS 'Whether a folded phrase stands whole in a folded text.';

CREATE MACRO has_all(folded, tokens) AS len(list_filter(tokens, lambda a: NOT contains(' ' || folded || ' ', ' ' || a || ' '))) = 0;
COMMENT ON MACRO has_all IS 'Whether each of these folded words stands whole in a folded text, in any order.';

CREATE MACRO has_each_word(folded, asked) AS len(list_filter(
    string_split(fold_text(coalesce(asked::VARCHAR, '')), ' '), lambda a: a <> '' AND NOT contains(' ' || folded || ' ', ' ' || a || ' '))) = 0;
COMMENT ON MACRO has_each_word IS 'Whether each word asked for stands whole in a folded text, in any order; NULL asks for none.';

-- AWG n has the diameter 5 mil x 92^((36 - n) / 39) (ASTM B258); n/0 counts on as 0, -1, -2.
-- kcmil is the square of the diameter in mil, over 1000; so both lie on one line, -n.
CREATE MACRO gauge_rank(size) AS CASE
    WHEN regexp_matches(lower(size), 'kcmil|mcm')
        THEN 39 * ln(sqrt(try_cast(regexp_extract(size, '[0-9.]+') AS DOUBLE) * 1000) / 5) / ln(92) - 36
    WHEN contains(size, '/')
        THEN try_cast(regexp_extract(size, '([0-9]+) */ *0', 1) AS DOUBLE) - 1
    ELSE -try_cast(regexp_extract(size, '[0-9]+') AS DOUBLE)
END;
COMMENT ON MACRO gauge_rank IS 'Place of an AWG or kcmil size (8, 1/0, 250 kcmil) on one line from thin to thick.';

-- "L1–L3" and "L1 to L3" hold L2 too; "L1, L3" does not.
CREATE MACRO other_marking(printed, folded, marking) AS
    marking <> ''
    AND NOT contains(' ' || folded || ' ', ' ' || marking || ' ')
    AND regexp_matches(folded, '(^| )' || rtrim(marking, '0123456789') || '[0-9]+( |$)')
    AND NOT regexp_matches(lower(printed), '[-–—‐‑−…~～〜]|\.\.|[0-9] *(to|bis|à|a|do|t/m) ');
COMMENT ON MACRO other_marking IS 'Whether a label bears numbered markings of the kind of this one, and another number: L2 where l1 was asked; "" is none.';

-- "Do not exceed 2.2 N·m on any terminal" is no figure of one.
CREATE MACRO is_limit_for_all(any_terminal, limit_nm, min_nm, max_nm) AS
    any_terminal AND limit_nm IS NOT NULL AND min_nm IS NULL AND max_nm IS NULL;
COMMENT ON MACRO is_limit_for_all IS 'Whether a row is a limit for every terminal of the device, and for none in particular.';

CREATE MACRO side_roles() AS ['line_in', 'load_out'];
COMMENT ON MACRO side_roles IS 'Roles that tell the side of a device; the others tell the conductor or the circuit.';

CREATE MACRO conductors_of(roles) AS list_filter(roles::VARCHAR[], lambda r: NOT list_contains(side_roles(), r));
COMMENT ON MACRO conductors_of IS 'Roles without the sides.';

CREATE MACRO wider_roles(roles) AS list_concat(
    CASE WHEN list_has_any(roles::VARCHAR[], side_roles()) THEN ['line', 'main']
         WHEN list_contains(roles::VARCHAR[], 'line') THEN ['main'] ELSE []::VARCHAR[] END,
    CASE WHEN list_has_any(roles::VARCHAR[], ['protective_earth', 'functional_earth']) THEN ['earth'] ELSE []::VARCHAR[] END,
    CASE WHEN list_has_any(roles::VARCHAR[], ['aux_nc', 'aux_no', 'aux_nc_late', 'aux_no_early', 'aux_co'])
         THEN ['aux'] ELSE []::VARCHAR[] END
);
COMMENT ON MACRO wider_roles IS 'Roles that say less than these: a terminal of the supply side is one of a line conductor.';

-- The neutral of the load side is no line conductor.
CREATE MACRO said_roles(roles) AS list_concat(roles::VARCHAR[], wider_roles(
    CASE WHEN list_has_all(list_concat(side_roles(), ['line', 'main']), roles::VARCHAR[]) THEN roles::VARCHAR[]
         ELSE conductors_of(roles) END));
COMMENT ON MACRO said_roles IS 'The roles of a terminal and those that they say as well; a side says line conductor only where no other conductor is named.';
