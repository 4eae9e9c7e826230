"""Plans and records on paper: PDF on A4 and Letter. The only folder that knows reportlab."""

from torquary_catalogue.board.paper.plan_paper import SIZES, write_plan_paper
from torquary_catalogue.board.paper.record_paper import write_record_paper

__all__ = ["SIZES", "write_plan_paper", "write_record_paper"]
