"""A session folder looked through: what is damaged, missing or left over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from benchvoice.remark import Frozen
from benchvoice.session.lines import Lines
from benchvoice.session.read import CLIPS, journal_path, read_lines, session_of
from benchvoice.session.values import Session

_BLOCK = 1 << 16
_SLACK = timedelta(seconds=2)


class Fault(Frozen, frozen=True, kw_only=True):
    """One thing that is not as it should be.

    `line` is 1-based, None for a file that no line names.  `damage` tells that
    something recorded cannot be read; the rest is worth knowing only.
    """

    what: str
    line: int | None = None
    text: str = ""
    damage: bool = True


class Inspection(Frozen, frozen=True, kw_only=True):
    """What was found in a session folder; `faults` by line."""

    session: Session
    records: int
    clips: int
    faults: tuple[Fault, ...] = ()

    @property
    def whole(self) -> bool:
        """Whether all that was recorded can be read."""
        return not any(fault.damage for fault in self.faults)


def inspect(folder: Path | str) -> Inspection:
    """Look through a session: each line, the numbering, the clips, the clock.

    Every clip is decoded.  Raises SessionError when there is no journal that
    could be read.
    """
    path = journal_path(folder)
    lines = read_lines(path)
    session = session_of(path, lines)
    named = dict(_named_clips(lines, session))
    faults = [
        *(Fault(what=one.what, line=one.line, text=one.text) for one in session.damage),
        *_clip_faults(path.parent, named),
        *_clock_faults(lines, session),
        *_left_over(path.parent, named),
        *_not_closed(session),
    ]
    return Inspection(
        session=session,
        records=len(lines.records),
        clips=len(named),
        faults=tuple(sorted(faults, key=lambda fault: fault.line or 1 << 62)),
    )


def _named_clips(lines: Lines, session: Session) -> Iterator[tuple[str, int]]:
    """Give the clips that events name, with the lines that do."""
    clips = {entry.seq: entry.clip for entry in session.recorded}
    for line, record in lines.records:
        seq = record.get("seq")
        clip = clips.get(seq) if isinstance(seq, int) else None
        if record.get("record") == "event" and clip is not None:
            yield clip, line


def _clip_faults(folder: Path, named: Mapping[str, int]) -> Iterator[Fault]:
    for clip, line in named.items():
        path = folder / clip
        if not path.is_file():
            yield Fault(what=f"its clip {clip} is missing", line=line)
            continue
        reason = _unheard(path)
        if reason is not None:
            yield Fault(what=f"its clip {clip} {reason}", line=line)


def _unheard(path: Path) -> str | None:
    """Decode a clip to its end, and say why that cannot be done; None when it can."""
    import soundfile

    try:
        with soundfile.SoundFile(path) as file:
            frames = sum(len(block) for block in file.blocks(blocksize=_BLOCK, dtype="int16"))
            return None if frames == file.frames else "breaks off"
    except (OSError, soundfile.LibsndfileError) as error:
        reason = getattr(error, "error_string", None) or str(error)
        return f"cannot be decoded ({' '.join(reason.split()).rstrip('.')})"


def _left_over(folder: Path, named: Mapping[str, int]) -> Iterator[Fault]:
    """Name the files that a crash left: a clip without its entry, a clip half written."""
    for path in sorted((folder / CLIPS).glob("*")):
        clip = f"{CLIPS}/{path.name}"
        if path.suffix == ".part":
            yield Fault(what=f"{clip} was only half written", damage=False)
        elif clip not in named:
            yield Fault(what=f"{clip} is of no entry that can be read", damage=False)


def _clock_faults(lines: Lines, session: Session) -> Iterator[Fault]:
    """Tell where the time of day ran backwards; recordings played in later may lie anywhere."""
    played = [sitting.number for sitting in session.sittings if sitting.source is not None]
    latest: datetime | None = None
    sitting: Any = None
    for line, record in lines.records:
        wall = _time(record.get("wall"))
        if record.get("record") not in ("opened", "event", "closed") or wall is None:
            continue
        before, sitting = sitting, record.get("sitting")
        if sitting != before and (before in played or sitting in played):
            latest = None
        if latest is not None and latest - wall > _SLACK:
            yield Fault(
                what=f"the clock of the machine was set back by {latest - wall}; "
                "times within a sitting are not touched by it",
                line=line,
                damage=False,
            )
            latest = wall
        latest = wall if latest is None else max(latest, wall)


def _time(wall: Any) -> datetime | None:
    try:
        time = datetime.fromisoformat(wall)
    except (TypeError, ValueError):
        return None
    return time if time.tzinfo is not None else None


def _not_closed(session: Session) -> Iterable[Fault]:
    for sitting in session.sittings:
        if sitting.closed is None:
            what = f"sitting {sitting.number} was not closed: it is open now, or it was cut off"
            yield Fault(what=what, damage=False)
