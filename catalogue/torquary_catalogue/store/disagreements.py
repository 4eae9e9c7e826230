"""Another torque for one terminal of one device, of another sheet in force or by a decision: said with both."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import insert_findings
from torquary_catalogue.store.rows import finding_row
from torquary_schema.values import Finding

DISAGREE = "sheets_disagree"
DECIDED = "rows_disagree"

_DROP = """
DELETE FROM finding
WHERE list_contains($codes, code) AND (list_contains($sheets, sheet) OR list_contains($sheets, other))"""

_IN_FORCE = """
    SELECT s.*, h.file, h.edition, d.setting IS NOT NULL AS decided
    FROM setting AS s JOIN sheet AS h ON h.digest = s.sheet
    LEFT JOIN (SELECT sheet, setting FROM last_decision WHERE list_contains($sheets, sheet)) AS d
        ON d.sheet = s.sheet AND d.setting = s.id
    WHERE h.state = 'read' AND s.state = 'released' AND s.purpose = 'electrical_terminal' AND s.device_printed <> ''
        AND NOT is_limit_for_all(s.any_terminal, s.limit_nm, s.min_nm, s.max_nm)"""

# The words of a device hold its maker, family, series and model.
_PAIRS = f"""
WITH here AS ({_IN_FORCE} AND list_contains($sheets, s.sheet)),
near AS ({_IN_FORCE} AND s.device_words IN (SELECT device_words FROM here))
SELECT a.sheet AS sheet, a.id AS setting, b.sheet AS other_sheet, b.id AS other_setting,
    a.file, a.edition, a.torque_printed, a.unit_printed, a.page,
    b.file AS other_file, b.edition AS other_edition, b.torque_printed AS other_torque,
    b.unit_printed AS other_unit, b.page AS other_page
FROM here AS a JOIN near AS b ON a.device_words = b.device_words
    AND (a.sheet <> b.sheet OR (a.id <> b.id AND (a.decided OR b.decided)))
WHERE (a.terminal_words = b.terminal_words OR (len(a.roles) > 0 AND list_sort(a.roles) = list_sort(b.roles)))
    AND (a.min_nm, a.nominal_nm, a.max_nm, a.limit_nm) IS DISTINCT FROM (b.min_nm, b.nominal_nm, b.max_nm, b.limit_nm)
    AND (coalesce(a.min_nm, a.max_nm) IS NULL) = (coalesce(b.min_nm, b.max_nm) IS NULL)
    AND (a.system IS NULL OR b.system IS NULL OR coalesce(a.max_mm2 >= b.min_mm2 AND b.max_mm2 >= a.min_mm2, false)
        OR coalesce(a.max_gauge >= b.min_gauge AND b.max_gauge >= a.min_gauge, false))
    AND (len(a.material) = 0 OR len(b.material) = 0 OR list_has_any(a.material, b.material))
    AND (len(a.stranding) = 0 OR len(b.stranding) = 0 OR list_has_any(a.stranding, b.stranding))
    AND coalesce(a.ferrule = b.ferrule, true) AND coalesce(a.conductor_count, 1) = coalesce(b.conductor_count, 1)
ORDER BY sheet, a.number, other_sheet, b.number"""

_MOST = "SELECT sheet, setting, max(number) AS most FROM finding WHERE setting IS NOT NULL GROUP BY sheet, setting"


def note_disagreements(catalogue: Catalogue, sheets: Iterable[str]) -> None:
    """Say with each setting of these sheets, and with those of the others, where two sheets in force disagree.

    They do where both release a torque for the same device and terminal, and for conductors that may be the same,
    and the figures differ. So may two rows of one sheet, where people decided about one of them.
    """
    if catalogue.batch is not None:
        catalogue.batch.sheets |= dict.fromkeys(sheets)
        return
    values = {"sheets": list(sheets)}
    catalogue.connection.execute(_DROP, {**values, "codes": [DISAGREE, DECIDED]})
    found: dict[tuple[str, str, str], Finding] = {}
    for row in catalogue.rows(_PAIRS, values):
        found.setdefault((row["sheet"], row["setting"], row["other_sheet"]), _describe(row, "other_"))
        found.setdefault((row["other_sheet"], row["other_setting"], row["sheet"]), _describe(row, ""))
    if not found:
        return
    numbers = {(row["sheet"], row["setting"]): row["most"] for row in catalogue.rows(_MOST)}
    rows = []
    for (sheet, setting, other), finding in found.items():
        numbers[sheet, setting] = numbers.get((sheet, setting), 0) + 1
        rows.append(finding_row(sheet, setting, finding, numbers[sheet, setting], other=other))
    insert_findings(catalogue, rows)


def _describe(row: dict[str, Any], which: str) -> Finding:
    """Say what the other sheet of a pair prints; `which` is the beginning of its columns."""
    edition = row[f"{which}edition"]
    printed = row["other_torque" if which else "torque_printed"] or ""
    unit = row["other_unit" if which else "unit_printed"] or ""
    page, figure = f"page {row[f'{which}page']}", f"{printed}{'' if unit in printed else f' {unit}'}"
    if row["sheet"] == row["other_sheet"]:
        message = f"{page} has {figure} for the same terminal too: see which is right, and reject or correct the other"
        return Finding(code=DECIDED, message=message, printed=printed)
    message = (
        f"{row[f'{which}file']}{f', {edition},' if edition else ''} {page} is in force too and has {figure} for the "
        "same terminal: see which of the sheets is right, and withdraw the other"
    )
    return Finding(code=DISAGREE, message=message, printed=printed)
