"""What is said back is understood as what was found: render and parse undo each other."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from language_help import facts, pack, parse

from benchvoice.grammar.readings import INCH_THREADS, METRIC_THREADS, readings
from benchvoice.grammar.vocabulary import Quantity, Term
from benchvoice.language import render
from benchvoice.remark import Amount, Finding, Measure, Remark, Size

PACK = pack()
UNITS = {unit.name: unit for unit in PACK.unit}


def names(terms: tuple[Term, ...]) -> st.SearchStrategy[str]:
    return st.sampled_from([term.name for term in terms])


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


AMOUNTS = st.builds(
    Amount, value=st.integers(2, 96).map(lambda sixteenths: sixteenths / 16), unit=st.just("in")
) | st.builds(Amount, value=st.integers(5, 120).map(float), unit=st.just("mm"))
SIZES = st.builds(
    Size,
    thread=maybe(st.sampled_from([*INCH_THREADS, *METRIC_THREADS])),
    length=maybe(AMOUNTS),
    across_flats=maybe(AMOUNTS),
    diameter=maybe(AMOUNTS),
    relative=maybe(st.sampled_from(["short", "long", "small", "large"])),
)
CONTAINERS = st.sampled_from(PACK.container).flatmap(
    lambda kind: (
        st.integers(1, 120).map(lambda number: f"{kind.name} {number}")
        if kind.labelled
        else st.just(kind.name)
    )
)


@st.composite
def measures(draw: st.DrawFn) -> Measure:
    quantity: Quantity = draw(st.sampled_from(PACK.quantity))
    unit = draw(st.sampled_from(quantity.units))
    value = draw(st.sampled_from([said.value for said in readings(UNITS[unit])]))
    if isinstance(value, tuple):
        return Measure(quantity=quantity.name, value=value[0], high=value[1], unit=unit)
    return Measure(quantity=quantity.name, value=value, unit=unit)


@st.composite
def orientations(draw: st.DrawFn) -> str:
    words = f"{draw(names(PACK.feature))} {draw(names(PACK.direction))}"
    return f"{words} {draw(names(PACK.part))}" if words.endswith("toward") else words


@st.composite
def findings(draw: st.DrawFn) -> Finding:
    """Findings that a remark can have; a spring's height is its spring height."""
    part = draw(st.sampled_from(PACK.part))
    conditions = tuple(draw(st.lists(names(PACK.condition), max_size=2, unique=True)))
    measure = draw(maybe(measures()))
    if measure and measure.quantity == "height" and part.kind == "spring":
        measure = None
    size = draw(maybe(SIZES)) if part.kind == "fastener" else None
    return Finding(
        part=part.name,
        count=draw(maybe(st.integers(1, 200))),
        size=None if size == Size() else size,
        place=draw(maybe(names(PACK.place))),
        condition=conditions[0] if conditions else None,
        conditions=conditions if len(conditions) > 1 else (),
        action="measured" if measure else draw(maybe(names(PACK.action))),
        disposition=draw(maybe(names(PACK.disposition))),
        container=draw(maybe(CONTAINERS)),
        measure=measure,
        side=draw(maybe(st.sampled_from(["left", "right", "port", "starboard"]))),
        ordinal=draw(maybe(st.sampled_from([-1, 1, 2, 3, 12, 21]))),
        orientation=draw(maybe(orientations())),
        mark=draw(maybe(names(PACK.mark))),
        tool=draw(maybe(names(PACK.tool))),
        group=draw(maybe(names(PACK.group))),
    )


@settings(max_examples=600, deadline=None)
@given(findings())
def test_what_is_rendered_is_understood(finding: Finding) -> None:
    said = render(finding)
    assert facts(parse(said)) == facts(Remark(heard=said, findings=(finding,))), said


@settings(max_examples=200, deadline=None)
@given(findings())
def test_rendered_twice_is_rendered_once(finding: Finding) -> None:
    said = render(finding)
    assert [render(found) for found in parse(said).findings] == [said]


@given(findings())
def test_what_is_rendered_can_be_said(finding: Finding) -> None:
    assert all(word.strip(",").replace("'", "").isalpha() for word in render(finding).split())


@pytest.mark.parametrize(
    ("finding", "said"),
    [
        (Finding(), ""),
        (Finding(part="bolt", count=8, action="removed"), "eight bolts, removed"),
        (Finding(part="tooth", count=2, condition="chipped"), "two teeth, chipped"),
        (
            Finding(part="bolt", count=1, size=Size(thread="3/8-16")),
            "one bolt three eighths sixteen",
        ),
        (Finding(part="seal", place="under pump"), "seal, under the pump"),
        (
            Finding(stack=("steel plate", "friction plate", "steel plate")),
            "order is steel plate then friction plate then steel plate",
        ),
        (
            Finding(measure=Measure(quantity="end play", value=12, unit="thou"), action="measured"),
            "end play twelve thou",
        ),
        (Finding(part="seal", orientation="lip toward hub"), "seal, lip toward the hub"),
        (Finding(part="bolt", container="box 117"), "bolt, in box one hundred and seventeen"),
        (Finding(part="bolt", container="parts washer"), "bolt, in the parts washer"),
    ],
)
def test_said_in_bench_words(finding: Finding, said: str) -> None:
    assert render(finding) == said
    if said:
        assert facts(parse(said)) == facts(Remark(heard=said, findings=(finding,)))


@given(
    st.builds(Amount, value=st.floats(), unit=st.text()),
    st.text(),
    st.integers(),
)
def test_rendering_never_fails(amount: Amount, text: str, number: int) -> None:
    """Also what came from a file of somebody else's is said somehow."""
    size = Size(thread=text, length=amount, relative=text)
    measure = Measure(quantity=text, value=amount.value, unit=text)
    finding = Finding(part=text, count=number, size=size, measure=measure, container=text)
    assert isinstance(render(msgspec.structs.replace(finding, ordinal=number)), str)
