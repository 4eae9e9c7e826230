"""A person's word on a reading: accept, correct or reject; kept with who, when and why."""

from torquary_catalogue.decide.decision import Decided, Verdict, decide

__all__ = ["Decided", "Verdict", "decide"]
