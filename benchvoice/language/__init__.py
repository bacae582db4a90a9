"""Remarks understood: text to findings, with the words of the grammar pack, and back to words."""

from benchvoice.language.parser import Parser
from benchvoice.language.render import render

__all__ = ["Parser", "render"]
