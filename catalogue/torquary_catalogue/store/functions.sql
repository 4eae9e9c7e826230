-- Small functions that loading and asking share, so that both fold and order alike.
CREATE MACRO fold_text(printed) AS
    trim(regexp_replace(lower(strip_accents(nfc_normalize(printed))), '[^\p{L}\p{N}]+', ' ', 'g'));
COMMENT ON MACRO fold_text IS 'Text as it is compared: small letters, no accents, one blank between words.';

-- "TQ-16" is found as "TQ 16" and as "TQ16".
CREATE MACRO fold_names(printed) AS
    fold_text(printed) || ' ' || fold_text(regexp_replace(printed, '(\S)[-/._](\S)', '\1\2', 'g'));
COMMENT ON MACRO fold_names IS 'fold_text of names, with hyphens and the like as a blank and as nothing.';

CREATE MACRO has_words(folded, asked) AS contains(' ' || folded || ' ', ' ' || fold_text(asked) || ' ');
COMMENT ON MACRO has_words IS 'Whether the words asked for stand in a folded text, whole and in this order.';

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
CREATE MACRO other_marking(printed, folded, asked) AS
    regexp_matches(fold_text(asked), '[a-z]+[0-9]+$')
    AND NOT contains(' ' || folded || ' ', ' ' || regexp_extract(fold_text(asked), '[a-z]+[0-9]+$') || ' ')
    AND regexp_matches(folded, '(^| )' || regexp_extract(fold_text(asked), '([a-z]+)[0-9]+$', 1) || '[0-9]+( |$)')
    AND NOT regexp_matches(lower(printed), '[-–—‐‑−…~～〜]|\.\.|[0-9] *(to|bis|à|a|do|t/m) ');
COMMENT ON MACRO other_marking IS 'Whether a label bears numbered markings of the kind asked for, and another number: L2 where L1 was asked.';

CREATE MACRO wider_roles(role) AS CASE
    WHEN role = 'line' THEN ['main']
    WHEN role IN ('line_in', 'load_out') THEN ['line', 'main']
    WHEN role IN ('protective_earth', 'functional_earth') THEN ['earth']
    WHEN role IN ('aux_nc', 'aux_no', 'aux_nc_late', 'aux_no_early', 'aux_co') THEN ['aux']
    ELSE []::VARCHAR[]
END;
COMMENT ON MACRO wider_roles IS 'Roles of terminals that say less than this one: a terminal of the supply side is one of a line conductor.';
