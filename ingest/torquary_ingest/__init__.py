"""From a datasheet to settings and findings."""
