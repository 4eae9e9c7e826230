"""A notice as plain lines, for pipes and files."""

from __future__ import annotations

from torquary_catalogue.show.notice import Notice
from torquary_catalogue.show.visible import put_on_one_line


def write_plain(notice: Notice) -> list[str]:
    """Return the notice line by line, the torque first."""
    lines = [notice.headline + (f" (asked: {notice.asked})" if notice.asked else "")]
    lines += ["", *notice.said_first] if notice.said_first else []
    for block in notice.blocks:
        lines.append("")
        if block.large:
            lines.append(block.large)
        lines += [f"  {name + ':':<12} {put_on_one_line(text)}" for name, text in block.lines]
    if notice.notes:
        lines += ["", *notice.notes]
    return [*lines, "", *(f"! {caution}" for caution in notice.cautions)]
