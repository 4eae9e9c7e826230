"""The style sheets of a page: parsed (CSS Syntax 3), their conditions judged, cascaded over its elements."""
