"""The grammar pack and the outlines: the trade's words and procedures as immutable values."""

from benchvoice.grammar.load import grammars_folder, load_outline, load_pack, trade_kinds
from benchvoice.grammar.outline import (
    Check,
    Hardware,
    Hazard,
    LengthGroup,
    Limit,
    Outline,
    Stack,
    Stage,
    Step,
    Together,
)
from benchvoice.grammar.pack import Pack

__all__ = [
    "Check",
    "Hardware",
    "Hazard",
    "LengthGroup",
    "Limit",
    "Outline",
    "Pack",
    "Stack",
    "Stage",
    "Step",
    "Together",
    "grammars_folder",
    "load_outline",
    "load_pack",
    "trade_kinds",
]
