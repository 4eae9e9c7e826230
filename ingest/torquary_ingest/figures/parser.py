"""Loads the grammars and runs them over pieces that the tokeniser has cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import Lexer

from torquary_ingest.figures.tokens import Piece


class PieceLexer(Lexer):
    """Hands pieces to lark as they are: the cutting is done already."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: object = None) -> Iterator[Token]:
        """Yield one lark token per piece; the piece travels as the token's value."""
        for piece in lexer_state:
            yield Token(piece.type, piece)


@cache
def _grammar(name: str) -> Lark:
    text = (files("torquary_ingest.figures") / f"{name}.lark").read_text("utf-8")
    return Lark(text, parser="lalr", lexer=PieceLexer)


def parse(name: str, pieces: Sequence[Piece]) -> Tree[Token] | None:
    """Return the tree of the pieces under the grammar `name`, None where they do not fit it."""
    try:
        return _grammar(name).parse(pieces)
    except UnexpectedInput:
        return None


def piece_of(token: Token) -> Piece:
    """Return the piece that a token of the tree carries."""
    piece: Any = token.value
    assert isinstance(piece, Piece)
    return piece
