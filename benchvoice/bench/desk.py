"""One job at the bench: remarks in, events on the disk and out."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from msgspec.structs import replace

from benchvoice.audio import Utterance, write_clip
from benchvoice.bench.ears import Ears
from benchvoice.bench.gate import Gate
from benchvoice.bench.questions import OPEN_SECONDS, question_of
from benchvoice.follow import State, StepEvent, advance, guess_in, restore
from benchvoice.remark import Remark, StepGuess
from benchvoice.session import Clock, Header, Journal, has_records


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event that is on the disk; `clip` is relative to the session folder.

    `end` is where the utterance ended, in seconds of the sitting; None when typed.
    `question` is what the user is asked about it, when it was not heard clearly.
    """

    event: StepEvent
    clip: str | None = None
    end: float | None = None
    question: str | None = None


class Desk:
    """Takes remarks, follows the outline, and records each event before giving it back.

    With `asks` a doubtful entry is asked about: the next yes or no settles the newest.  As a
    context manager it closes the sitting at the end.
    """

    def __init__(self, ears: Ears, journal: Journal, *, asks: bool = False) -> None:
        self._ears = ears
        self._journal = journal
        self._asks = asks
        self._asked_at = 0.0
        before = journal.before
        self.state: State = State() if before is None else restore(before.log, before.last_seq)
        self.listening = True
        """False between "be quiet" and "listen up": only the latter is heard then."""

    @classmethod
    def open(
        cls,
        ears: Ears,
        folder: Path,
        header: Header,
        clock: Clock,
        source: str | None = None,
        *,
        asks: bool = False,
    ) -> Desk:
        """Begin a session in `folder`, or take the one in it up again with a new sitting.

        `source` names the recording that the sitting is made from, if it is.
        Raises SessionError when the session cannot be read or written.
        """
        if has_records(folder):
            with ExitStack() as opened:  # closed again when the header cannot be written
                journal = opened.enter_context(Journal.open(folder, clock, source=source))
                if header != Header(outline=header.outline):
                    journal.amend_header(header)
                opened.pop_all()
        else:
            journal = Journal.create(folder, header, clock, source=source)
        return cls(ears, journal, asks=asks)

    @property
    def folder(self) -> Path:
        """The session folder."""
        return self._journal.folder

    @property
    def elapsed(self) -> float:
        """Seconds since the sitting began."""
        return self._journal.elapsed()

    def typed(self, text: str) -> Recorded:
        """Take a typed line as a remark, now."""
        remark = self._ears.read(text, self._guess)
        return self._record(remark, self.elapsed)

    def expect(self, utterance: Utterance) -> None:
        """Listen beforehand to an utterance that has most likely ended; nothing is recorded."""
        self._ears.expect(utterance)

    def heard(self, utterance: Utterance, gate: Gate | None = None) -> Recorded | None:
        """Take an utterance; its times are seconds of the sitting.

        None when the gate does not let it count, and while not listening,
        unless it is the command to listen again.
        """
        words = self._ears.words(utterance)
        counts = words if gate is None else gate.admit(words, utterance.start, utterance.end)
        if counts is None:
            return None
        heard = self._ears.understand(utterance, counts, self._guess)
        if not self.listening and heard.remark.command != "listen":
            return None
        clip = self._journal.clip_name(self.state.seq + 1)
        write_clip(self.folder / clip, utterance.samples)
        return self._record(
            heard.remark,
            utterance.start,
            clip=clip,
            end=utterance.end,
            alternatives=heard.alternatives,
        )

    def _record(
        self,
        remark: Remark,
        at: float,
        *,
        clip: str | None = None,
        end: float | None = None,
        alternatives: tuple[str, ...] = (),
    ) -> Recorded:
        if self.elapsed - self._asked_at > OPEN_SECONDS:
            self.state = replace(self.state, asking=None)
        state, event = advance(self.state, remark, self._ears.pack, at, alternatives)
        self._journal.append_event(event, clip=clip, end=end, alternatives=alternatives)
        question = question_of(event, self._ears.outline) if self._asks else None
        if question is not None:
            state, self._asked_at = replace(state, asking=event.seq), self.elapsed
        self.state = state
        if event.kind == "voice" and remark.command in ("quiet", "listen"):
            self.listening = remark.command == "listen"
        return Recorded(event, clip, end, question)

    def _guess(self, remark: Remark) -> StepGuess | None:
        return guess_in(self.state, self._ears.pack, remark)

    def close(self, at: float | None = None) -> None:
        """End the sitting, `at` seconds after it began (default: now)."""
        self._journal.close_sitting(at)

    def __enter__(self) -> Desk:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._journal.__exit__(kind, error, trace)
