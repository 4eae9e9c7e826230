"""Answers for a person to read: plain text, or large and in colour on a terminal, or JSON."""
