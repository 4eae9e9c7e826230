"""The command line. Each command is a module of its own, imported only when it is called."""

from torquary_catalogue.command.group import main

__all__ = ["main"]
