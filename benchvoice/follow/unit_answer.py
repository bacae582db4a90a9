"""A unit said alone, as the answer to which unit was meant."""

from __future__ import annotations

from msgspec.structs import replace

from benchvoice.follow.others import understood
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Remark


def lacks_unit(remark: Remark, pack: Pack) -> bool:
    """Whether it was asked which unit was meant: every reading of a number ends in one."""
    return bool(_dimensions(remark, pack))


def with_unit(asked: str, remark: Remark, pack: Pack) -> Remark:
    """Give a remark that is a unit and nothing else as what was `asked` about, in that unit.

    Any other remark is given as it is, and so is a unit of another kind ("psi" of an end play).
    `heard` stays what was said now.
    """
    said = remark.heard.lower().strip(" .,")
    named = (unit for unit in pack.unit if said in (unit.name.lower(), *unit.say))
    unit = next(named, None) if asked else None
    if unit is None or unit.dimension not in _dimensions(understood(pack, asked), pack):
        return remark
    words = asked.split()
    for at in range(len(words), 0, -1):
        whole = understood(pack, " ".join([*words[:at], said, *words[at:]]))
        measured = any(finding.measure for finding in whole.findings)
        if whole.kind == "remark" and measured and not (whole.ambiguous or whole.unparsed):
            return replace(whole, heard=remark.heard, confidence=remark.confidence)
    return remark


def _dimensions(remark: Remark, pack: Pack) -> set[str]:
    """Give the kinds of units that a number of the remark may be in, empty when none is asked."""
    units = {unit.name: unit.dimension for unit in pack.unit}
    asked = [[text.rpartition(" ")[2] for text in one.readings] for one in remark.ambiguous]
    return {units[name] for names in asked if units.keys() >= {*names} for name in names}
