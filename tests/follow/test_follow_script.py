"""The script of the demo teardown followed; its steps and wrong counts are the reference."""

from __future__ import annotations

import tomllib

import pytest
from follow_help import SCRIPT, pack_of, parser_of, script

from benchvoice.follow import State, StepEvent, advance, tally


def follow(remarks: list[dict[str, object]]) -> tuple[State, list[StepEvent]]:
    state = State()
    events = []
    for remark in remarks:
        parsed = parser_of().parse(str(remark["say"]))
        state, event = advance(state, parsed, pack_of(), float(str(remark["at"])))
        events.append(event)
    return state, events


@pytest.mark.parametrize("told", [True, False], ids=["with commands", "findings only"])
def test_steps_of_the_script(told: bool, capsys: pytest.CaptureFixture[str]) -> None:
    remarks = [r for r in script() if told or r["kind"] == "remark"]
    _, events = follow(remarks)
    pairs = [
        (event.step, remark["step"], remark["say"])
        for event, remark in zip(events, remarks, strict=True)
        if remark["kind"] == "remark"
    ]
    right = sum(step == truth for step, truth, _ in pairs)
    with capsys.disabled():
        print(f"\nsteps guessed right: {right} of {len(pairs)}", "told" if told else "not told")
        for step, truth, say in pairs:
            if step != truth:
                print(f"  {say}: {step}, should be {truth}")
    assert right >= 0.9 * len(pairs)


def test_commands_of_the_script_lead_where_it_says() -> None:
    _, events = follow(script())
    for event, remark in zip(events, script(), strict=True):
        if remark["kind"] == "command" and remark["step"]:
            assert event.step == remark["step"], remark["say"]


def wrong_on_purpose() -> set[tuple[str, int, int]]:
    """Recompute what is wrong from the script's own findings and the outline's numbers."""
    outline = pack_of().outline
    assert outline is not None
    expected = {
        (step.id, item.part): item.count for step in outline.steps() for item in step.hardware
    }
    said: dict[tuple[str, str], int] = {}
    last: tuple[str, str] | None = None
    for remark in tomllib.loads(SCRIPT.read_text("utf-8"))["remark"]:
        for finding in remark.get("finding", []):
            if "count" in finding:
                last = (remark["step"], finding["part"])
                said[last] = finding["count"]
        if remark.get("command") == "recount" and last:
            said[last] = remark["number"]
    return {
        (part, expected[step, part], count)
        for (step, part), count in said.items()
        if (step, part) in expected and count != expected[step, part]
    }


def test_wrong_counts_are_warned_of_at_once_and_only_they_stay() -> None:
    state, events = follow(script())
    at_once = {event.remark.heard: event.warnings for event in events}
    assert at_once["nine bolts off the end cover three eighths sixteen"] == (
        "end cover: 10 bolts expected, 9 said",
    )
    assert at_once["snap ring out seven frictions and eight steels"] == (
        "forward clutch: 8 friction plates expected, 7 said",
    )
    assert at_once["eleven bolts off the front cover in bag two"] == (
        "front cover: 12 bolts expected, 11 said",
    )
    assert at_once["make that twelve"] == ()
    outline = pack_of().outline
    assert outline is not None
    counts = tally(((entry.step, entry.findings) for entry in state.log), outline)
    differing = {(count.part, count.expected, count.said) for count in counts if count.differs}
    assert differing == wrong_on_purpose()
    assert len(differing) == 2


def test_measures_of_the_script_out_of_their_limits() -> None:
    _, events = follow(script())
    warned = [w for event in events for w in event.warnings if "limit" in w]
    assert [warning.split(":")[0] for warning in warned] == [
        "backlash 14 thou",
        "input shaft runout 3 thou",
        "friction plate thickness 82 thou",
    ]
    assert all("(invented for the demo)" in warning for warning in warned)
