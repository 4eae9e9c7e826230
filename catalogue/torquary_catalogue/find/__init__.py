"""Asking the catalogue: a question in words and options, an answer of one of six kinds."""

from torquary_catalogue.find.answer import Answer, find
from torquary_catalogue.find.choices import Choice
from torquary_catalogue.find.difference import Difference
from torquary_catalogue.find.look import Look
from torquary_catalogue.find.question import Question, read_question
from torquary_catalogue.find.row import Row
from torquary_catalogue.find.spelling import Offer

__all__ = ["Answer", "Choice", "Difference", "Look", "Offer", "Question", "Row", "find", "read_question"]
