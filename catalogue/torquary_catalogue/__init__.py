"""Store, find, decide, show."""
