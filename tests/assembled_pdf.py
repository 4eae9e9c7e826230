"""A PDF file put together from the bodies of its objects."""

from __future__ import annotations

from collections.abc import Mapping


def assemble_pdf(bodies: Mapping[int, bytes]) -> bytes:
    """Return a file of these objects, by number; object 1 is the catalogue."""
    made, offsets = b"%PDF-1.7\n", {}
    for number, body in sorted(bodies.items()):
        offsets[number] = len(made)
        made += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"".join(b"%d 1\n%010d 00000 n \n" % place for place in offsets.items())
    tail = b"xref\n0 1\n0000000000 65535 f \n%strailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n"
    return made + tail % (table, max(bodies) + 1, len(made))
