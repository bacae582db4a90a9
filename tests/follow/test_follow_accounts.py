"""What is carried on from remark to remark is what is made of all remarks from the beginning.

The one is checked against the other: `accounts_of` reads everything anew and keeps nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any, NamedTuple
from unittest.mock import patch

import pytest
from follow_help import BARE, pack_of, parser_of, script, tell
from hypothesis import example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchvoice.follow import Job, LogEntry, State, StepEvent, advance, ledger, open_questions
from benchvoice.follow import accounts as accounts_module
from benchvoice.follow.accounts import NO_OUTLINE, Accounts, Recent, accounts_of
from benchvoice.follow.events import recounted, standing
from benchvoice.follow.ledger_homes import Homes
from benchvoice.grammar import Outline, load_pack
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Amount, Finding, Measure, Size

OUTLINES = ("reversing_gearbox", "worm_reducer", BARE)
UNITS = load_pack().unit


def values(made: Accounts) -> tuple[object, ...]:
    return made.counts, made.ledger, made.back, made.readings, made.checks, made.decided


def outline_of(name: str) -> Outline:
    return pack_of(name).outline or NO_OUTLINE


class Forgetful:
    """Reads all anew each time."""

    def of(self, log: tuple[LogEntry, ...], outline: Outline, units: tuple[Unit, ...]) -> Accounts:
        return accounts_of(standing(log), outline, units)


# --- remarks and commands, as they are said -------------------------------------------------------

COMMANDS = (
    "strike that", "strike that", "make it nine", "make that six", "next step", "next step",
    "go back", "finish this step", "yes", "no", "what is left", "what is still out",
    "what is undecided", "what is unmeasured", "what comes next", "how many should there be",
    "start putting it together", "start putting it together", "take a note", "stop the clock",
)  # fmt: skip
REMARKS = (
    "start the front cover", "twelve bolts off the front cover in bag two",
    "eleven bolts off the front cover", "no twelve bolts off the front cover",
    "two bolts on the front cover are bent replace", "twelve bolts in the front cover",
    "front cover bolts are rusty", "four bolts in", "twelve bolts in", "six bolts installed",
    "six bolts off the end cover in tray one", "four bolts off the end cover in tray two",
    "four of them two inch long", "six of them short", "in tray four", "four of them are bent",
    "two thrust washers out", "thrust bearing out", "three shims off the front cover keep as a set",
    "two wave springs off the front cover", "start covers on", "start the forward clutch",
    "six friction plates out", "friction plate thickness ninety thou", "end play twelve thou",
    "end play forty thou", "stack order pressure plate then steel then friction then steel",
    "paint mark on the outer rotor", "outer rotor out", "two seals out one cracked replace",
    "case is not cracked", "no leaks", "decide on the spool", "reuse the spool",
    "six bolts off the pump and one o ring torn", "pump bolts torqued to twenty foot pounds",
    "start the clutch check", "start the leak check", "nine bolts off the side cover",
    "snap ring in", "output seal weeping replace it", "new output seal in", "bolts in", "bolt in",
    "two snap rings off", "pressure plate then friction then steel", "replace the bearings",
)  # fmt: skip


@st.composite
def spoken(draw: st.DrawFn) -> list[str]:
    """One thing after another, an odd command or a remark of the recorded job in between."""
    job = [remark["say"] for remark in script()]
    said: list[str] = []
    for _ in range(draw(st.integers(1, 8))):
        said.extend(draw(st.lists(st.sampled_from(REMARKS), max_size=3)))
        at = draw(st.integers(0, len(job) - 1))
        said.extend(job[at : at + draw(st.integers(0, 3))])
        said.extend(draw(st.lists(st.sampled_from(COMMANDS), max_size=2)))
    return said


@cache
def said_before(outline: str) -> State:
    """A job far on: the ledger has something in every place."""
    state, _ = tell(*(remark["say"] for remark in script()), outline=outline)
    return state


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(OUTLINES), st.booleans(), spoken())
def test_what_is_followed_does_not_depend_on_what_is_kept(
    outline: str, late: bool, said: list[str]
) -> None:
    pack, parser = pack_of(outline), parser_of(outline)
    with patch("benchvoice.follow.job.RECENT", Recent()):
        start = said_before(outline) if late else State()
        carried: list[tuple[State, StepEvent]] = []
        state = start
        for at, text in enumerate(said):
            state, event = advance(state, parser.parse(text), pack, float(at))
            carried.append((state, event))
            job, stands = Job(state, pack), standing(state.log)
            assert job.book == ledger(stands, outline_of(outline)), text
            assert values(job.accounts) == values(
                accounts_of(stands, outline_of(outline), pack.unit)
            )
            assert job.open == open_questions(
                stands, pack, started=state.started, done=state.done
            ), text
    with patch("benchvoice.follow.job.RECENT", Forgetful()):
        state = start
        for at, (text, known) in enumerate(zip(said, carried, strict=True)):
            state, event = advance(state, parser.parse(text), pack, float(at))
            assert (state, event) == known, text


def test_a_check_that_failed_is_told_once_whatever_is_kept() -> None:
    said = ("case is not cracked", "four of them are bent", "twelve bolts off the front cover")
    for kept in (Recent(), Forgetful()):
        with patch("benchvoice.follow.job.RECENT", kept):
            _, events = tell(*said)
        assert [bool(event.warnings) for event in events] == [False, True, False]


# --- any findings at all, put down, struck and corrected in any order -----------------------------


class Edit(NamedTuple):
    """What is done to a log: something said, or one of the entries there (from the end) changed."""

    kind: str
    step: str | None = None
    findings: tuple[Finding, ...] = ()
    at: int = 0
    number: int = 0


SIZES = (Size(relative="long"), Size(relative="short"), Size(length=Amount(value=2.0, unit="in")))
COUNTS = (None, 1, 2, 4, 6, 8, 12)
ACTIONS = (None, "removed", "removed", "loosened", "installed", "installed", "tightened", "checked")


@cache
def findings(outline: str, steps: tuple[str, ...]) -> st.SearchStrategy[Finding]:
    """Findings of the parts of some steps, of others like them, and of what nobody lists."""
    known = outline_of(outline)
    listed = [(item.part, item.place) for at in steps for item in known.by_id[at].hardware]
    listed += [(part, None) for part, _ in listed]
    loose = [("bolt", None), ("spacer", None), ("clip", None), ("clip", "cover"), (None, "front")]
    named = st.sampled_from((*listed, *listed, *loose))

    def seldom(*values: object) -> st.SearchStrategy[object]:
        return st.one_of(st.none(), st.none(), st.sampled_from(values))

    def of(named: tuple[str | None, str | None], **more: Any) -> Finding:
        return Finding(part=named[0], place=named[1], **more)

    counted = st.builds(of, named, count=st.sampled_from(COUNTS), action=st.sampled_from(ACTIONS))
    described = st.builds(
        of,
        st.one_of(named, st.just((None, None))),
        count=st.sampled_from(COUNTS),
        action=st.sampled_from(ACTIONS),
        condition=seldom("bent", "good"),
        disposition=seldom("replace", "reuse", "decide"),
        container=seldom("tray 1", "tray 2"),
        orientation=seldom("lip in", "lip out"),
        mark=seldom("paint mark"),
        group=seldom("set"),
        size=seldom(*SIZES),
        ordinal=seldom(2),
        stack=st.sampled_from(((), (), ("steel plate", "friction plate"))),
    )
    limits = [limit for step in known.steps() for limit in step.limit]
    measured = st.builds(
        lambda limit, value: Finding(
            part=limit.part,
            action="measured",
            measure=Measure(quantity=limit.quantity, value=value, unit=limit.unit),
        ),
        st.sampled_from(limits),
        st.sampled_from((0.0, 10.0, 1e6)),
    )
    return st.one_of(counted, counted, described, *([measured] if limits else []))


@st.composite
def steps_of(draw: st.DrawFn, outline: Outline) -> tuple[str, ...]:
    """Some steps (often one with builds), and one that puts together with what goes back in it."""
    ids = [*outline.by_id]
    putting = [step for step in outline.steps() if step.puts_back]
    builds = [step.id for step in outline.steps() if any(item.build for item in step.hardware)]
    steps = draw(st.lists(st.sampled_from((*ids, *builds * 10)), min_size=1, max_size=2))
    if putting:
        back = draw(st.sampled_from(putting))
        steps += [back.id, *back.puts_back]
    return tuple(dict.fromkeys(steps))


@st.composite
def edits(draw: st.DrawFn) -> tuple[str, list[Edit]]:
    outline = draw(st.sampled_from(OUTLINES))
    steps = draw(steps_of(outline_of(outline)))
    finding = findings(outline, steps)
    step = st.one_of(st.sampled_from(steps), st.sampled_from((*steps, None)))
    say = st.builds(
        Edit, st.just("say"), step, st.lists(finding, min_size=1, max_size=2).map(tuple)
    )
    change = st.builds(
        Edit,
        st.sampled_from(("strike", "recount", "command")),
        step,
        at=st.sampled_from((0, 0, 0, 1, 3, 7)),
        number=st.integers(0, 9),
    )
    return outline, draw(st.lists(st.one_of(say, say, say, say, change), min_size=5, max_size=40))


def changed(log: tuple[LogEntry, ...], edit: Edit, seq: int) -> tuple[LogEntry, ...]:
    if edit.kind == "say":
        entry = LogEntry(seq=seq, kind="finding", step=edit.step, findings=edit.findings)
        return (*log, entry)
    if edit.kind == "command":
        return (*log, LogEntry(seq=seq, kind="started", step=edit.step))
    at = len(log) - 1 - edit.at
    if at < 0:
        return log
    if edit.kind == "strike":
        return (*log[:at], *log[at + 1 :])
    new = replace(log[at], findings=recounted(log[at].findings, edit.number))
    return (*log[:at], new, *log[at + 1 :])


def say(step: str, part: str, action: str | None = None, **more: Any) -> Edit:
    return Edit("say", step, (Finding(part=part, action=action, **more),))


SHARED_OUT = [
    say("forward_clutch", "steel plate", "removed", count=4),
    say("reverse_clutch", "steel plate", "removed", count=8),
    say("packs_in", "steel plate", "installed", count=12),
    say("front_cover", "clip", mark="paint mark"),
    say("forward_clutch", "steel plate", "removed", count=2),
]
"""What is counted later changes how a number was shared out before."""
NEW_BESIDE = [
    say("front_cover", "spacer", mark="paint mark"),
    say("front_cover", "clip", mark="paint mark"),
    say("front_cover", "clip", "removed", count=2),
]
"""What gets a line by being counted stands before what has one already."""
CHECKED = [
    *(
        say(step.id, check.part, "checked", condition="good")
        for step in outline_of("reversing_gearbox").steps()
        for check in step.check
    ),
    say("front_cover", "clip", mark="paint mark"),
]
OTHER_BUILD = [
    say("output_shaft", "thrust bearing", condition="bent"),
    say("output_shaft", "bearing", mark="paint mark"),
    say("output_shaft", "thrust washer", "removed", count=2),
    say("output_shaft", "thrust bearing", mark="paint mark"),
]


@settings(max_examples=100, deadline=None)
@given(edits())
@example(("reversing_gearbox", SHARED_OUT))
@example(("reversing_gearbox", NEW_BESIDE))
@example(("reversing_gearbox", OTHER_BUILD))
@example(("reversing_gearbox", CHECKED))
def test_what_is_carried_on_is_what_is_made_anew(drawn: tuple[str, list[Edit]]) -> None:
    outline, done = outline_of(drawn[0]), drawn[1]
    recent = Recent()
    log: tuple[LogEntry, ...] = ()
    for seq, edit in enumerate(done, start=1):
        log = changed(log, edit, seq)
        carried = recent.of(log, outline, UNITS)
        assert values(carried) == values(accounts_of(standing(log), outline, UNITS)), edit


def test_one_memory_serves_several_jobs() -> None:
    recent = Recent()
    log: tuple[LogEntry, ...] = ()
    for seq, remark in enumerate(("bolt", "seal", "bolt", "shim"), start=1):
        measure = Measure(quantity="end play", value=1.0, unit="mm")
        finding = Finding(part=remark, count=seq, action="removed", measure=measure)
        log = (*log, LogEntry(seq=seq, kind="finding", step="front_cover", findings=(finding,)))
        for outline in (outline_of("reversing_gearbox"), NO_OUTLINE, outline_of(BARE)):
            for units in (UNITS, ()):
                assert values(recent.of(log, outline, units)) == values(
                    accounts_of(standing(log), outline, units)
                )


# --- and little is made anew ----------------------------------------------------------------------


@contextmanager
def worked() -> Iterator[dict[str, int]]:
    """Count how often all is read anew, and the findings that a line is sought for."""
    done = {"anew": 0, "findings": 0}
    anew, of = accounts_module.accounts_of, Homes.of

    def counted_anew(*args: object) -> Accounts:
        done["anew"] += 1
        return anew(*args)  # type: ignore[arg-type]

    def counted_of(homes: Homes, *args: object) -> object:
        done["findings"] += 1
        return of(homes, *args)  # type: ignore[arg-type]

    with (
        patch("benchvoice.follow.accounts.accounts_of", counted_anew),
        patch.object(Homes, "of", counted_of),
        patch("benchvoice.follow.job.RECENT", Recent()),
    ):
        yield done


def test_the_tenth_time_through_a_job_is_no_more_work_than_the_second() -> None:
    said = [remark["say"] for remark in script()]
    state, found = State(), []
    for _ in range(10):
        with worked() as done:  # what was kept is lost: the first remark reads all anew
            state, _ = tell(said[0], "what is still out", state=state)
            done["findings"] = 0
            state, _ = tell(*said[1:], state=state)
        assert done["anew"] <= 1 + (len(found) < 2)
        found.append(done["findings"])
    assert found[1] > len(said) / 2
    assert found[2:] == [found[1]] * 8


@pytest.mark.parametrize("taken_back", ["strike that", "make it nine", "no"])
def test_what_is_taken_back_at_once_is_not_paid_for(taken_back: str) -> None:
    with worked() as done:
        state, _ = tell("start the front cover", *["twelve bolts off the front cover"] * 3)
        state = replace(state, asking=state.seq)
        before = done["anew"]
        tell(taken_back, "what is still out", state=state)
    assert done["anew"] == before
