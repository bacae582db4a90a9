"""How much of the names of steps is said, and what steps have to do with one another."""

from __future__ import annotations

import pytest
from follow_help import book_of, tell

from benchvoice.follow.align import aligner_of, said_of
from benchvoice.follow.evidence import FEATURES, Words
from benchvoice.follow.kin import put_back
from benchvoice.follow.likeness import stems
from benchvoice.follow.named import Names
from benchvoice.follow.part_kinds import PartKinds
from benchvoice.follow.weights import EVIDENCE
from benchvoice.grammar import Outline, Stage, Step, load_outline, load_pack, trade_kinds
from benchvoice.language import Parser
from benchvoice.remark import Finding, Size

NAMES = Names(
    [["pump off", "oil pump"], ["check the pump"], ["check the oil level"], ["wash the parts"]],
    ["strip", "inspect", "inspect", "clean"],
)


def test_the_work_of_a_stage_need_not_be_said_again() -> None:
    assert NAMES.said(stems("pump is good")).whole.tolist() == [1, 1, 0, 0]
    assert NAMES.general.tolist() == [0, 0, 0, 1]  # "wash the parts" is about nothing in particular


def test_a_rarer_word_counts_more() -> None:
    # by the definition of the inverse document frequency: "level" is of one step, "oil" of two
    oil, level = (NAMES.said([word]).share[2] for word in ("oil", "level"))
    assert level > oil > 0
    assert level + oil == pytest.approx(1.0)


def test_words_of_one_name() -> None:
    assert NAMES.whole(stems("oil pump")).tolist() == [1, 0, 0, 0]
    assert NAMES.whole(()).tolist() == [0, 0, 0, 0]


@pytest.mark.parametrize("word", ["bearing", "spring", "housing", "body", "gasket", "bushing"])
def test_one_and_many_have_one_stem(word: str) -> None:
    many = f"{word.removesuffix('y')}ies" if word.endswith("y") else f"{word}s"
    assert stems(word) == stems(many)


def test_kinds_of_parts() -> None:
    kinds = PartKinds(load_outline("reversing_gearbox"), trade_kinds())
    assert kinds.of("helical gear") == kinds.of("output gear") == "gear"
    assert kinds.of("some cover or other cover") == kinds.of_word(*stems("case")) == "housing"
    assert kinds.of(None) == kinds.of("thing") == "other"


def test_what_goes_back_is_as_listed_or_in_reverse() -> None:
    outline = load_outline("worm_reducer")
    at = {step.id: place for place, step in enumerate(outline.steps())}
    assert put_back(outline)[at["join"]].nonzero()[0].tolist() == [at["first_stage_off"]]
    plain = put_back(unlisted("one", "other", "third"))
    assert plain[:3].tolist() == [[0.0] * 6] * 3
    assert plain[3:, :3].argmax(axis=1).tolist() == [2, 1, 0]  # the last off goes on first


def unlisted(*names: str) -> Outline:
    def stage(kind: str) -> Stage:
        steps = tuple(Step(id=f"{kind}_{name}", title=name) for name in names)
        return Stage(id=kind, title=kind, kind=kind, step=steps)  # type: ignore[arg-type]

    return Outline(name="x", title="x", unit="x", stage=(stage("strip"), stage("assemble")))


def test_a_step_without_a_word_of_its_own_is_no_trouble() -> None:
    outline = Outline(
        name="x",
        title="x",
        unit="x",
        stage=(Stage(id="s", title="s", kind="clean", step=(Step(id="wash", title="wash"),)),),
    )
    assert (
        aligner_of(outline).evidence.features(Finding(part="gear"), Words(("gear",))).shape[0] == 1
    )


def test_what_names_a_step_is_not_of_what_was_said_last() -> None:
    aligner = aligner_of(load_outline("reversing_gearbox"))
    assert aligner.names((Finding(condition="leaking"),), "no leaks")
    assert not aligner.names((Finding(count=2, condition="bent"),), "two of them bent")


@pytest.mark.parametrize(
    "said",
    [
        "eight nuts off the end cover and two washers bent",
        "output shaft seal lip out, spring missing",
    ],
)
def test_common_hardware_is_of_what_is_said_in_the_same_breath(said: str) -> None:
    """Common practice, no source; other steps have washers and springs of their own."""
    _, events = tell("twelve return springs off", "detent spring off", said)
    assert events[-1].step in {"end_cover", "seals_out"}
    assert [one.own_step for one in events[-1].remark.findings] == [None, None]


def _best(said: str, outline: str = "worm_reducer") -> str:
    pack = load_pack(load_outline(outline))
    assert pack.outline is not None
    aligner = aligner_of(pack.outline)
    remark = Parser(pack).parse(said)
    (finding,) = remark.findings
    words = said_of(remark.findings, said)[0]
    scores = aligner.evidence.features(finding, words) @ [EVIDENCE[name] for name in FEATURES]
    return aligner.ids[int(scores.argmax())]


def test_a_cover_is_back_where_its_bolts_go_back() -> None:
    # the covers of the worm reducer are no hardware of its outline, only places
    assert _best("side cover shimmed") == "second_wheel_in"


def test_work_on_what_a_step_is_about_is_not_of_the_step_of_all_the_rest() -> None:
    assert _best("sump cleaned out", "reversing_gearbox") == "wash_case"
    assert _best("gears washed", "reversing_gearbox") == "wash_parts"


@pytest.mark.parametrize(
    ("finding", "common"),
    [
        (Finding(part="bolt", count=2), True),
        (Finding(part="bolt", size=Size(thread="M10x1.5")), False),
        (Finding(part="bolt", place="pump"), False),
    ],
)
def test_a_size_tells_which_bolts(finding: Finding, common: bool) -> None:
    outline = load_outline("worm_reducer")
    assert aligner_of(outline).evidence.is_common(finding) is common


def test_a_count_that_is_off_right_after_a_step_was_begun_is_of_it() -> None:
    # seven of the invented reverse clutch are listed, eight of the forward one
    _, events = tell(
        "start forward clutch", "eight frictions", "start reverse clutch", "eight frictions"
    )
    assert events[-1].step == "reverse_clutch"
    assert events[-1].warnings == ("reverse clutch: 7 friction plates expected, 8 said",)


def test_what_is_found_while_inspecting_is_of_what_came_off() -> None:
    state, _ = tell(
        "start forward clutch", "eight frictions", "start check plates", "two frictions burnt"
    )
    found = {line.step: line.some_found for line in book_of(state).lines if line.conditions}
    assert found == {"forward_clutch": 2}
