"""What stands at the top of every sheet."""

from __future__ import annotations

from typing import Literal

from benchvoice.grammar.outline import Outline
from benchvoice.remark import Frozen
from benchvoice.session.values import Session
from benchvoice.sheets.layout import counted

SheetKind = Literal["teardown", "parts", "reassembly", "hardware"]

DEFERS = (
    "The unit maker's manual, local codes and licensed practice come before this sheet. Where they "
    "differ, they are right.",
    "This sheet has only what was said and what the outline has. It gives no torque, clearance or "
    "setting of its own.",
)
"""What every sheet defers to."""

_TITLES: dict[SheetKind, tuple[str, str]] = {
    "teardown": ("Teardown record", "what was taken apart, found, counted and measured"),
    "parts": ("Parts list", "what to order, send out, or decide on"),
    "reassembly": ("Reassembly sheet", "what goes back, in which order, and how"),
    "hardware": ("Hardware sheet", "what came off, where it lies, and what does not add up"),
}


class SheetHead(Frozen, frozen=True, kw_only=True):
    """Head of a sheet: what it is for, which job it is of, and what it defers to.

    `days` are the first and the last day worked, ISO 8601.  `invented` marks
    demo data; `warnings` tell what makes the sheet as a whole incomplete.
    """

    sheet: SheetKind
    title: str
    purpose: str
    job: str | None = None
    unit: str | None = None
    serial: str | None = None
    who: str | None = None
    outline: str | None = None
    session: str = ""
    days: tuple[str, ...] = ()
    invented: bool = False
    defers: tuple[str, ...] = DEFERS
    cautions: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What the job is called: its number, else its folder."""
        return self.job or self.session


def head_of(kind: SheetKind, session: Session, outline: Outline | None) -> SheetHead:
    """Give the head of a sheet of `kind`."""
    header = session.header
    title, purpose = _TITLES[kind]
    return SheetHead(
        sheet=kind,
        title=title,
        purpose=purpose,
        job=header.job,
        unit=header.unit or (outline.unit if outline else None),
        serial=header.serial,
        who=header.who,
        outline=outline.title if outline else header.outline,
        session=session.folder.name,
        days=_days(session),
        invented=header.invented or bool(outline and outline.invented),
        cautions=outline.caution if outline else (),
        warnings=_warnings(session, outline),
    )


def _days(session: Session) -> tuple[str, ...]:
    walls = [wall for one in session.sittings for wall in (one.opened, one.closed) if wall]
    days = sorted({wall[:10] for wall in walls})
    return tuple(dict.fromkeys([*days[:1], *days[-1:]]))


def _warnings(session: Session, outline: Outline | None) -> tuple[str, ...]:
    found = []
    if outline is None and session.header.outline:
        found.append(
            f"The outline {session.header.outline} was not found: cautions, expected counts and "
            "limits are NOT on this sheet."
        )
    elif outline is None:
        found.append(
            "There is no outline: cautions, expected counts and limits are NOT on this sheet."
        )
    lost = sum(not fault.used for fault in session.damage)
    if lost:
        found.append(
            f"{counted(lost, 'line')} of the session file could not be read, so something may be "
            "missing here; see the teardown record."
        )
    return tuple(found)
