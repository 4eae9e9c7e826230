"""Asking the catalogue: a question in words and options, an answer of one of six kinds."""

from torquary_catalogue.find.answer import Answer, Difference, Row, find
from torquary_catalogue.find.question import Question, read_question

__all__ = ["Answer", "Difference", "Question", "Row", "find", "read_question"]
