"""What speaks for what: the printed texts that stand for a figure, nearest first, for all kinds of blocks.

`over.py` says what the lines over a table, list or sentence are to the figures in it, `chain.py` puts them with the
record's own cells and headings and the sheet's head into levels. Distance is counted in levels, not in lines.
`statement.py` reads what a line says for all, `reach.py` how far that reaches.
"""

from torquary_ingest.scope.chain import Level, chain_of, scope_of
from torquary_ingest.scope.over import is_sentence, speak_over, texts_of
from torquary_ingest.scope.reach import Statements
from torquary_ingest.scope.statement import Statement, agrees, fill_kinds, read_statement, split_sentences

__all__ = [
    "Level",
    "Statement",
    "Statements",
    "agrees",
    "chain_of",
    "fill_kinds",
    "is_sentence",
    "read_statement",
    "scope_of",
    "speak_over",
    "split_sentences",
    "texts_of",
]
