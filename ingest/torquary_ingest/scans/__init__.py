"""Pages without live text: straightened, rules and words found in the picture. What is read here is a proposal."""

from torquary_ingest.scans.budget import Budget
from torquary_ingest.scans.print_seen import may_show_print
from torquary_ingest.scans.scan import RECOGNISER_WANTED, Scan, is_ready, read_scan

__all__ = ["RECOGNISER_WANTED", "Budget", "Scan", "is_ready", "may_show_print", "read_scan"]
