"""Outlines looked through, drafted from a session, and merged from several."""

from benchvoice.outlining.check import OutlineReport, look_through
from benchvoice.outlining.compare import Comparison, compare
from benchvoice.outlining.draft import draft
from benchvoice.outlining.facts import facts_of
from benchvoice.outlining.merge import merge
from benchvoice.outlining.text import comparison_text, report_text
from benchvoice.outlining.values import Drafted
from benchvoice.outlining.write import toml_of

__all__ = [
    "Comparison",
    "Drafted",
    "OutlineReport",
    "compare",
    "comparison_text",
    "draft",
    "facts_of",
    "look_through",
    "merge",
    "report_text",
    "toml_of",
]
