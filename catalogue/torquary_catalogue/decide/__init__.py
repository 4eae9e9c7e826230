"""A person's word on readings and sheets; kept with who, when and why, and what was in force before and after."""

from torquary_catalogue.decide.answer import Answered, AnswerWish
from torquary_catalogue.decide.decision import VERDICTS, Decided, Verdict, Wish, decide
from torquary_catalogue.decide.decisions_file import carry_out_file

__all__ = ["VERDICTS", "AnswerWish", "Answered", "Decided", "Verdict", "Wish", "carry_out_file", "decide"]
