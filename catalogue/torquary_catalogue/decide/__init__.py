"""A person's word on readings and sheets; kept with who, when and why, and what was in force before and after."""

from torquary_catalogue.decide.decision import VERDICTS, Decided, Verdict, Wish, decide
from torquary_catalogue.decide.decisions_file import read_decisions

__all__ = ["VERDICTS", "Decided", "Verdict", "Wish", "decide", "read_decisions"]
