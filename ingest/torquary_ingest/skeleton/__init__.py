"""What a sheet as a whole is, made once after opening and handed down: product, maker, document, running lines.

`skeleton.py` puts it together; `names.py` tells what of a line names a product, `product.py` finds the one that the
sheet is about, `maker.py` who made it, `paper.py` number, edition and date, `running.py` the lines at the edges of
pages, `lines.py` sets the first pages in blocks of one size.
"""

from torquary_ingest.skeleton.skeleton import Skeleton, make_skeleton

__all__ = ["Skeleton", "make_skeleton"]
