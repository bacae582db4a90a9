"""Write the invented past sessions of the demo to demo_sessions/history/.

Twelve jobs on the invented reversing gearbox, made with the program's own parser, follower and
journal under a scripted clock.  The same seed gives the same files.  Step times are lognormal
around the outline's book minutes, with an effect of the whole job; all of it is invented.

Run it from the repository: python demo_sessions/make_history.py [folder]
"""

from __future__ import annotations

import random
import shutil
import sys
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import NamedTuple

from benchvoice.follow import State, advance, find_step
from benchvoice.grammar import Hardware, Outline, Pack, Step, load_outline, load_pack
from benchvoice.grammar.pack import plural_of
from benchvoice.language import Parser
from benchvoice.session import Header, Journal, ScriptedClock

SEED = 20240311
OUTLINE = "reversing_gearbox"
JOBS = 12
STRIP_ONLY = (2, 5, 9, 10)
"""Jobs that ended with the parts list."""

JOB_SPREAD = 0.18
STEP_SPREAD = 0.3
"""Standard deviations of the log of a job's and a step's time against the book."""

DAY_SECONDS = 8 * 3600.0
LONGEST_SILENCE = 30 * 60.0

_NUMBERS = (
    "no one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen"
).split()

_SAID = {
    "drain": ("oil is dirty and contaminated", "oil is clean"),
    "strainer": ("strainer is out metal on it", "strainer is clean"),
    "valve_strip": ("spool is scored", "spool is good reuse it"),
    "pump_strip": ("inner rotor is scored outer rotor looks good", "outer rotor is good reuse it"),
    "lift_shafts": ("forward shaft and reverse shaft lifted out",),
    "output_shaft": ("output shaft and output gear are out",),
    "wash_parts": ("gears and shafts washed", "gears and bearings washed"),
    "wash_case": ("case washed mating face scraped clean",),
    "passages": ("oil passages blown out",),
    "check_case": ("no cracks in the case", "case is good"),
    "check_gears": ("output gear is pitted order a new one", "backlash is nine thou"),
    "check_shafts": ("input shaft runout is one thou", "runout is three thou"),
    "check_plates": (
        "friction plate thickness is ninety thou",
        "steel plate flatness is four thou",
    ),
    "check_springs": ("return spring free length is one point four seven inches",),
    "check_bearings": ("bearings are pitted replace", "bearings are good reuse"),
    "check_pump": ("tip clearance is four thou", "side clearance is two thou"),
    "check_valve": ("spool is good reuse it", "relief valve spring is good"),
    "pistons_in": ("pistons installed",),
    "packs_in": ("pack clearance is seventy thou", "friction plates installed"),
    "bearings_on": ("bearings pressed in", "bearings installed"),
    "output_in": ("output shaft installed",),
    "shafts_in": ("forward shaft and reverse shaft installed",),
    "covers_on": ("end play is seven thou", "covers installed"),
    "seals_in": ("shaft seals installed",),
    "hydraulics_on": ("pump installed", "strainer installed"),
    "run_test": ("main pressure is two hundred forty p s i",),
    "leak_check": ("no leaks",),
}
"""What is said when a step is done; steps with hardware have their counts said as well."""


class Shop:
    """One job being done: a clock, a journal, and what is said into it."""

    def __init__(self, folder: Path, pack: Pack, start: datetime, dice: random.Random) -> None:
        self.pack = pack
        self.folder = folder
        self.dice = dice
        self.parser = Parser(pack)
        self.scripted = ScriptedClock(start)
        self.state = State()
        self.journal = Journal.create(folder, _header(folder.name, dice), self.scripted.clock)

    def say(self, text: str) -> None:
        """Say something now."""
        remark = self.parser.parse(text)
        self.state, event = advance(self.state, remark, self.pack, self.journal.elapsed())
        self.journal.append_event(event)

    def work(self, seconds: float) -> None:
        """Let time go by."""
        self.scripted.advance(seconds)

    def next_day(self) -> None:
        """Close up, and go on the next morning with the clock running."""
        self.journal.close_sitting()
        self.work(15 * 3600.0 + self.dice.uniform(0, 1800))
        self.journal = Journal.open(self.folder, self.scripted.clock)
        if not self.state.running:
            raise RuntimeError("the day ended with the clock stopped")


class Plan(NamedTuple):
    """How a step goes: its seconds of work, whether start and finish are said, what else is."""

    step: Step
    seconds: float
    named: str | None
    remarks: tuple[str, ...]


def main(folder: Path) -> None:
    """Write all jobs to `folder`, each in its own; what was there under their names goes."""
    outline = load_outline(OUTLINE)
    pack = load_pack(outline)
    names = _spoken_names(outline, Parser(pack))
    dice = random.Random(SEED)
    day = datetime(2024, 3, 11, 7, 30, tzinfo=timezone(timedelta(hours=-8)))
    for number in range(1, JOBS + 1):
        target = folder / f"invented_{number:02d}"
        shutil.rmtree(target, ignore_errors=True)
        plans = _plans(outline, names, dice, strip_only=number in STRIP_ONLY)
        _do_job(Shop(target, pack, day + timedelta(days=14 * number), dice), plans)


def _do_job(shop: Shop, plans: Iterator[Plan]) -> None:
    for plan in plans:
        if shop.journal.elapsed() > DAY_SECONDS:
            shop.next_day()
        _do_step(shop, plan)
        if shop.dice.random() < 0.04:
            shop.say("taking a break")
            shop.work(shop.dice.uniform(600, 2400))
            shop.say("back to work")
    shop.journal.close_sitting()


def _do_step(shop: Shop, plan: Plan) -> None:
    luck = shop.dice.random()
    if luck < 0.04:
        return  # not needed on this job
    if luck < 0.1:  # done, but not timed
        shop.say("stop the clock")
        shop.work(plan.seconds)
        shop.say("start the clock again")
        return
    if plan.named:
        shop.work(shop.dice.uniform(5, 20))
        shop.say(f"start the {plan.named}")
    remarks = list(plan.remarks)
    while not plan.named and plan.seconds / len(remarks) > LONGEST_SILENCE:
        remarks.append(remarks[-1] if len(plan.remarks) == 1 else "take a photo")
    for text in remarks:
        shop.work(plan.seconds / (len(remarks) + bool(plan.named)))
        _say_count(shop, text)
    if plan.named:
        shop.work(plan.seconds / (len(remarks) + 1))
        shop.say(f"finished the {plan.named}")


def _say_count(shop: Shop, text: str) -> None:
    """Now and then the wrong number is said, and put right a little later."""
    first, _, rest = text.partition(" ")
    number = _NUMBERS.index(first) if first in _NUMBERS else 0
    if number > 3 and shop.dice.random() < 0.05:
        shop.say(f"{_NUMBERS[number - 1]} {rest}")
        shop.work(4.0)
        shop.say(f"make that {first}")
    else:
        shop.say(text)


def _plans(
    outline: Outline, names: dict[str, str], dice: random.Random, *, strip_only: bool
) -> Iterator[Plan]:
    effect = dice.gauss(0.0, JOB_SPREAD)
    for stage in outline.stage:
        if strip_only and stage.kind in ("assemble", "test"):
            continue
        for step in stage.step:
            minutes = (step.minutes or 20.0) * dice.lognormvariate(effect, STEP_SPREAD)
            remarks = _remarks(step, dice)
            named = not remarks or dice.random() < 0.3
            yield Plan(step, minutes * 60.0, names[step.id] if named else None, remarks)


def _remarks(step: Step, dice: random.Random) -> tuple[str, ...]:
    counts = [_count_text(item) for item in step.hardware if item.place or item.count == 1]
    said = _SAID.get(step.id, ())
    return (*counts[:1], *([dice.choice(said)] if said else []))


def _count_text(item: Hardware) -> str:
    off = f" off the {item.place}" if item.place else " out"
    if item.count == 1:
        return f"{item.part}{off}"
    return f"{_NUMBERS[item.count]} {plural_of(item.part)}{off}"


def _spoken_names(outline: Outline, parser: Parser) -> dict[str, str]:
    """Give a name for each step that is understood after "start the"."""
    names: dict[str, str] = {}
    for step in outline.steps():
        for say in (*step.say, step.title.lower()):
            remark = parser.parse(f"start the {say}")
            found = find_step(remark.words or "", outline)
            if remark.command == "start" and [guess.id for guess in found] == [step.id]:
                names.setdefault(step.id, say)
    return names


def _header(name: str, dice: random.Random) -> Header:
    return Header(
        outline=OUTLINE,
        job=name.replace("_", " job "),
        unit="reversing gearbox",
        serial=f"invented-{dice.randrange(10000):04d}",
        who="nobody",
        invented=True,
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "history")
