"""A notice as plain lines, for pipes and files."""

from __future__ import annotations

from torquary_catalogue.show.notice import Notice


def write_plain(notice: Notice) -> str:
    """Return the notice as text, the torque first."""
    lines = [notice.headline + (f" (asked: {notice.asked})" if notice.asked else "")]
    lines += ["", *notice.said_first] if notice.said_first else []
    for block in notice.blocks:
        lines.append("")
        if block.large:
            lines.append(block.large)
        lines += [f"  {name + ':':<12} {text}" for name, text in block.lines]
    if notice.notes:
        lines += ["", *notice.notes]
    return "\n".join([*lines, "", *(f"! {caution}" for caution in notice.cautions)])
