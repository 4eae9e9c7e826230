"""Openers: each turns one kind of file into a `Document`."""
