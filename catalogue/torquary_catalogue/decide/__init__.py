"""A person's word on readings: accept, correct or reject; kept with who, when and why."""

from torquary_catalogue.decide.decision import VERDICTS, Decided, Verdict, Wish, decide
from torquary_catalogue.decide.decisions_file import read_decisions

__all__ = ["VERDICTS", "Decided", "Verdict", "Wish", "decide", "read_decisions"]
