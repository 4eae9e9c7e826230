"""What speaks for what: the printed texts that stand for a figure, nearest first, for all kinds of blocks.

`over.py` says what the lines over a table, list or sentence are to the figures in it, `chain.py` puts them with the
record's own cells and headings and the sheet's head into levels. Distance is counted in levels, not in lines.
"""

from torquary_ingest.scope.chain import Level, chain_of, scope_of
from torquary_ingest.scope.over import is_sentence, speak_over, texts_of

__all__ = ["Level", "chain_of", "is_sentence", "scope_of", "speak_over", "texts_of"]
