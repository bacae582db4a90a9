"""Remarks understood: text to findings, with the words of the grammar pack."""

from benchvoice.language.parser import Parser

__all__ = ["Parser"]
