"""The `benchvoice` command: arguments read, library calls made, results printed."""

from benchvoice.cli.main import main

__all__ = ["main"]
