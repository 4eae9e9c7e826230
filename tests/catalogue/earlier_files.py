"""Catalogues that earlier versions wrote, with the sheets that were loaded into them.

`earlier/layout_1.duckdb.xz` was written by the last version with layout 1, by its command. Loaded were SHEETS and
the sample orvantzel_spd.pdf, taught.csv under a profile with lb·in. Decided: quay.csv Line corrected to 1.2 N·m,
Load given the terminal "Load 2, 4, 6", L3 corrected to 2.2 N·m with 10-16 mm², N rejected, PE rejected and then
accepted, A2 (held, no torque printed) corrected to 0.8 N·m; datasheet.csv L2 (held) accepted; orvantzel_spd.pdf
given "L1, L2, L3", its earth terminal rejected; taught.csv L1 corrected to 2.5 N·m, N accepted. Then taught.csv was
loaded under cN·m, which lost its decisions, and another datasheet.csv put the first one out of force.

`earlier/layout_2.duckdb.xz` was written by the last version with layout 2. Loaded was limits.csv of SHEETS; decided:
L2 corrected to "max. 2 Nm", N accepted.

`earlier/layout_3.duckdb.xz` was written by the last version with layout 3. Loaded was roles.csv of SHEETS; decided:
Load given the terminal "Load L and N", N rejected, the earth terminal given "PE" and 1.5 N·m.

`earlier/layout_4.duckdb.xz` was written by the last version with layout 4. Loaded was words.csv of SHEETS; decided:
Load given the terminal "Outgoing 2T1".

`earlier/layout_5.duckdb.xz` was written by the last version with layout 5. Loaded were office.csv of SHEETS, two
editions of qb.csv, and two makers' datasheet.csv, the second with --replace. Decided: Load given the device "Main
switch QS 63 A" and the terminal "Outgoing 2T1", N corrected to 1.9 N·m and then rejected, PE (held twice: 1.2 and 1.5)
accepted and rejected.

`earlier/layout_6.duckdb.xz` was written by the last version with layout 6. Loaded was given.csv of SHEETS. Decided:
Load given the device "Main switch QS 63 A", the terminal "Outgoing 2T1" and 4-6 mm², N corrected to 1.9 N·m and that
taken back, PE (held twice: 1.2 and 1.5) accepted and rejected, a row added for the terminal "Aux 13, 14".

`earlier/layout_7.duckdb.xz` was written by the last version with layout 7. Loaded was given.csv of SHEETS. Decided:
Load given the terminal "Outgoing 2T1" and the driver bit PZ2, N corrected to 1.9 N·m, PE (held twice: 1.2 and 1.5)
accepted and rejected.

`earlier/layout_8.duckdb.xz` was written by the last version with layout 8. Loaded was given.csv of SHEETS. Decided:
Load given the terminal "Outgoing 2T1", N corrected to 1.9 N·m, PE (held as 1.2 and 1.5) rejected once.

`earlier/layout_9.duckdb.xz` was written by the last version with layout 9. Loaded was lacking.csv of SHEETS; answered
for its list: the terminal is "Bar terminal", the device stands under "Order".
"""

from __future__ import annotations

import lzma
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from torquary_catalogue.command import main

EARLIER = Path(__file__).parent / "earlier"
SHEETS = {
    "quay.csv": "Quillhaven Switchgear\nBreaker QB 16\nTerminal;Conductor mm²;Torque N·m\nLine;1.5-6;2.5\n"
    "Load;1.5-6;2.4\nL3;10;2.0\nN;1.5-6;1.8\nPE;1.5-10;1.6\nA1;0.5-1.5;0.8\nA2;0.5-1.5;\n",
    "taught.csv": "Quillhaven Switchgear\nReihe QT\nKlemme;Leiter mm²;Mz.\nL1;1,5-6;22\nN;1,5-6;20\n",
    "limits.csv": "Main switch QS 63\nTerminal;Conductor mm²;Tightening torque N·m\nL1;4;max. 0.8\nL2;4;2.5\n"
    "N;4;max. 1.2\n",
    "roles.csv": "Main switch QS 63\nTerminal;Conductor mm²;Tightening torque N·m\nLine L, N;4;2.5\nN;6;1.8\n"
    "Load;4;2.0\nEarth terminal PE;4;1.6\n",
    "words.csv": "Main switch QS 63\nTerminal;Conductor mm²;Tightening torque N·m\nLine L;4;2.5\nN;6;1.8\nLoad;4;2.0\n",
    "office.csv": "Main switch QS 63\nTerminal;Conductor mm²;Tightening torque N·m\nLine L;4;2.5\nN;6;1.8\nLoad;4;2.0\n"
    "PE;4;1.2 / 1.5\n",
    "given.csv": "Wharfside Controls\nMain switch QS 63\nTerminal;Conductor mm²;Tightening torque N·m\nLine L;4;2.5\n"
    "N;6;1.8\nLoad;4;2.0\nPE;4;1.2 / 1.5\n",
    "lacking.csv": "Wharfside\n\nOrder;Pack;mm²;Tightening torque N·m\n81.104;10;4;0.5\n81.110;5;6;0.8\n",
    "datasheet.csv": "Mossgrindle Terminals\nTerminal;Conductor mm²;Torque N·m\nL1;4;1.1\nL2;4;1.1 greased\n",
}


def unpack(folder: Path, layout: int) -> Path:
    path = folder / "earlier.duckdb"
    path.write_bytes(lzma.decompress((EARLIER / f"layout_{layout}.duckdb.xz").read_bytes()))
    return path


def run(catalogue: Path, *arguments: object) -> Result:
    return CliRunner().invoke(main, [*map(str, arguments), "--catalogue", str(catalogue)], catch_exceptions=False)


def put(folder: Path, *names: str) -> list[Path]:
    for name in names:
        (folder / name).write_text(SHEETS[name], "utf-8")
    return [folder / name for name in names]


def shorten(figure: Any) -> str | None:
    return None if figure is None else f"{figure.normalize():f}"
