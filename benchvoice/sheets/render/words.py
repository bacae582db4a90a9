"""Words that the text and the HTML of a sheet share."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.sheets.hardware import UNSAID_OFF
from benchvoice.sheets.measures import Measured
from benchvoice.sheets.parts_sheet import PartRow, Source
from benchvoice.sheets.reassembly import Fit
from benchvoice.sheets.teardown import Counted


def count_text(count: Counted) -> str:
    """Say a count: "bolt, end cover: 9 said, 10 expected"."""
    name = f"{count.part}, {count.place}" if count.place else count.part
    if count.expected is None:
        return f"{name}: {said_text(count)}, the outline lists none"
    return f"{name}: {said_text(count)}, {count.expected} expected"


def said_text(count: Counted) -> str:
    """Say what was counted: "9 said", "no number said", "not said to be off", "not mentioned"."""
    if count.said is not None:
        return f"{count.said} said"
    if count.mentioned:
        return "no number said"
    return UNSAID_OFF if count.spoken_of else "not mentioned"


def measured_text(one: Measured) -> str:
    """Say a reading and what it was taken of: "input shaft runout 3 thou"."""
    return " ".join(filter(None, [one.place if not one.part else None, one.part, one.said]))


def verdict_text(one: Measured) -> str:
    """Say how a reading stands to its limit."""
    again = ", measured again since" if one.again else ""
    return {
        "within": "within the limit",
        "outside": "OUTSIDE the limit",
        "not compared": "not compared, the limit is in another kind of unit",
        "no limit": "no limit in the outline: see the unit maker's manual",
    }[one.verdict] + ("; heard with doubt, measure again" if one.doubt else again)


def quantity_text(row: PartRow) -> str:
    """Say how many; "?" when no number is known."""
    return "?" if row.quantity is None else str(row.quantity)


def source_text(source: Source) -> str:
    """Say where a row of the parts list comes from: "end cover, End cover off (entry 31)"."""
    by = f"entry {source.entry}" if source.entry is not None else "by the outline"
    return f"{', '.join(filter(None, [source.place, source.step]))} ({by})"


def fit_details(fit: Fit) -> Iterator[tuple[str, str]]:
    """Yield (name, text) of what is known of a thing that goes back in, but its stack."""
    if fit.renewed:
        yield "renewed", fit.renewed
    if fit.back:
        yield "already", fit.back
    if fit.container:
        yield "from", fit.container
    if fit.orientation:
        yield "way round", fit.orientation
    if fit.mark:
        yield "mark", fit.mark
    for text in fit.lengths:
        yield "length", text
    if fit.together:
        yield "stays together", fit.together
    if fit.found:
        yield "found", fit.found
    if fit.note:
        yield "note", fit.note
    if fit.stack:
        yield "order going in", "first to last"
