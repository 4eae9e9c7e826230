"""The catalogue in one page that needs no network: it answers as `torquary find` does, by the same rules."""

from torquary_catalogue.pocket.choosing import Chosen, choose
from torquary_catalogue.pocket.page import Pocket, write_pocket

__all__ = ["Chosen", "Pocket", "choose", "write_pocket"]
