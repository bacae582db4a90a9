"""The grammar pack and the outlines: the trade's words and procedures as immutable values."""

from benchvoice.grammar.load import grammars_folder, load_outline, load_pack
from benchvoice.grammar.outline import Hardware, Limit, Outline, Stage, Step
from benchvoice.grammar.pack import Pack

__all__ = [
    "Hardware",
    "Limit",
    "Outline",
    "Pack",
    "Stage",
    "Step",
    "grammars_folder",
    "load_outline",
    "load_pack",
]
