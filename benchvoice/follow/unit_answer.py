"""A unit said alone, as the answer to which unit was meant."""

from __future__ import annotations

from msgspec.structs import replace

from benchvoice.follow.others import understood
from benchvoice.grammar.pack import Pack
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Remark


def lacks_unit(remark: Remark, pack: Pack) -> bool:
    """Whether it was asked which unit was meant: every reading of a number ends in one."""
    return bool(_dimensions(remark, pack))


def with_unit(asked: str, remark: Remark, pack: Pack) -> Remark:
    """Give a remark that is a unit and nothing else as what was `asked` about, in that unit.

    Any other remark is given as it is, and so is a unit of another kind ("psi" of an end play).
    `heard` stays what was said now; what needed no unit was taken down before.
    """
    said = remark.heard.lower().strip(" .,")
    named = (unit for unit in pack.unit if said in (unit.name.lower(), *unit.say))
    unit = next(named, None) if asked else None
    before = understood(pack, asked)
    if unit is None or unit.dimension not in _dimensions(before, pack):
        return remark
    whole = _whole(asked, said, pack)
    if whole is None:
        return remark
    new = tuple(finding for finding in whole.findings if finding not in before.findings)
    return replace(whole, heard=remark.heard, confidence=remark.confidence, findings=new)


def without_waiting(remark: Remark, pack: Pack) -> Remark:
    """Leave out what is only whole with the unit that is asked for: the answer takes it down."""
    units = _units_asked(remark, pack)
    whole = _whole(remark.heard, units[0].say[0], pack) if units else None
    if whole is None:
        return remark
    kept = tuple(finding for finding in remark.findings if finding in whole.findings)
    return replace(remark, findings=kept)


def _whole(asked: str, said: str, pack: Pack) -> Remark | None:
    """Give what was asked about with a unit put where it makes it whole; None where it does not."""
    words = asked.split()
    for at in range(len(words), 0, -1):
        whole = understood(pack, " ".join([*words[:at], said, *words[at:]]))
        measured = any(finding.measure for finding in whole.findings)
        if whole.kind == "remark" and measured and not (whole.ambiguous or whole.unparsed):
            return whole
    return None


def _dimensions(remark: Remark, pack: Pack) -> set[str]:
    """Give the kinds of units that a number of the remark may be in, empty when none is asked."""
    return {unit.dimension for unit in _units_asked(remark, pack)}


def _units_asked(remark: Remark, pack: Pack) -> list[Unit]:
    if not remark.ambiguous:
        return []  # as of most remarks
    units = {unit.name: unit for unit in pack.unit}
    asked = [[text.rpartition(" ")[2] for text in one.readings] for one in remark.ambiguous]
    return [units[name] for names in asked if units.keys() >= {*names} for name in names]
