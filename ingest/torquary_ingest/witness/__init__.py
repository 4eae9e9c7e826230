"""The picture is the witness: no figure is released that the page does not show."""

from torquary_ingest.witness.claims import Claim, Testimony
from torquary_ingest.witness.ink import fold_text
from torquary_ingest.witness.witness import Witness

__all__ = ["Claim", "Testimony", "Witness", "fold_text"]
