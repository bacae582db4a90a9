"""Outlines looked through, drafted from a session, and merged from several."""

from benchvoice.outlining.check import OutlineReport, look_through

__all__ = ["OutlineReport", "look_through"]
