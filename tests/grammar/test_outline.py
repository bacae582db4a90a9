"""What an outline can say, and how a mistake in it is refused.

The kinds of field are common practice at the bench, no source.
"""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from benchvoice.errors import GrammarError
from benchvoice.grammar import Outline, load_outline, load_pack
from benchvoice.grammar.generate import vocabulary_words
from benchvoice.grammar.outline_check import spoken_words
from benchvoice.language import Parser
from benchvoice.remark import remark_to_json

HEAD = """name = "t"
title = "T"
unit = "t"
[[stage]]
id = "strip"
title = "Strip"
kind = "strip"
[[stage.step]]
id = "a"
title = "A"
"""
FIRST = len(HEAD.splitlines()) + 1


def written(folder: Path, body: str) -> Path:
    path = folder / "own.toml"
    path.write_text(HEAD + body, "utf-8")
    return path


@pytest.fixture(params=["reversing_gearbox", "worm_reducer"])
def outline(request: pytest.FixtureRequest) -> Outline:
    return load_outline(str(request.param))


@pytest.mark.parametrize(
    ("body", "line", "wrong"),
    [
        (
            "hardware = [\n  { part = 'nut' },\n  { part = 'bolt', count = 10, lengths = [\n"
            "      { count = 6, length = '30 mm', where = 'top' },\n"
            "      { count = 3, length = '50 mm', where = 'bottom' },\n  ] },\n]\n",
            FIRST + 2,
            "lengths add up to 9, count is 10",
        ),
        (
            "hardware = [\n  { part = 'bolt', count = 2, lengths = [\n"
            "      { count = 1, length = '30 mm', where = 'top' },\n"
            "      { count = 1, length = 'a foot', where = 'bottom' },\n  ] },\n]\n",
            FIRST + 1,
            '"a foot" is no length',
        ),
        (
            "hardware = [{ part = 'bolt', count = 2, length = '30 mm',"
            " lengths = [{ count = 2, length = '30 mm', where = 'top' }] }]\n",
            FIRST,
            "both length and lengths",
        ),
        (
            "hardware = [\n  { part = 'shim' },\n"
            "  { part = 'seal', always_replace = true, inspect = 'lip' },\n]\n",
            FIRST + 2,
            "always replaced, yet to be inspected",
        ),
        (
            "hardware = [\n  { part = 'thrust washer', build = 'thrust' },\n]\n",
            FIRST + 1,
            'build "thrust" has one option only',
        ),
        ("hardware = [\n  { part = 'shim', option = 'thin' },\n]\n", FIRST + 1, "of no build"),
        (
            "hardware = [{ part = 'shim' }]\ntogether = [\n"
            "  { name = 'pack', part = ['shim', 'spacer'] },\n]\n",
            FIRST + 2,
            '"pack": this step has no "spacer"',
        ),
        (
            "hardware = [{ part = 'shim' }]\n"
            "stack = [{ name = 'pack', first = 'shim', last = 'spacer' }]\n",
            FIRST + 1,
            '"pack": this step has no "spacer"',
        ),
        ("puts_back = ['a']\n", FIRST, "of a stage that puts nothing back"),
        ("hazard = [{ kind = 'bees', caution = 'x' }]\n", FIRST, "bees"),
        ("power_tools = 'sometimes'\n", FIRST, "sometimes"),
        (
            "limit = [\n  { quantity = 'end play', unit = 'thou', high = nan },\n]\n",
            FIRST + 1,
            "high: expected a number",
        ),
        (
            "hardware = [\n  { part = 'rotor', either_way = true, mark = 'Dot, 2nd' },\n]\n",
            FIRST + 1,
            "cannot be spoken",
        ),
    ],
)
def test_a_mistake_names_file_line_and_mend(
    tmp_path: Path, body: str, line: int, wrong: str
) -> None:
    path = written(tmp_path, body)
    with pytest.raises(GrammarError) as caught:
        load_outline(path)
    assert wrong in str(caught.value)
    assert (caught.value.file, caught.value.line) == (path, line)
    assert caught.value.mend


def test_puts_back_names_a_step_that_strips(tmp_path: Path) -> None:
    later = "[[stage]]\nid = 'in'\ntitle = 'In'\nkind = 'assemble'\n[[stage.step]]\n"
    rest = f"{later}id = 'b'\ntitle = 'B'\n[[stage.step]]\nid = 'c'\ntitle = 'C'\n"
    path = written(tmp_path, f"{rest}puts_back = ['b']\n")
    with pytest.raises(GrammarError, match='"b" is no step that strips'):
        load_outline(path)


def test_an_outline_without_the_new_fields_is_as_before(tmp_path: Path) -> None:
    body = "caution = ['Hot.']\nhardware = [{ part = 'bolt', count = 10, place = 'end cover' }]\n"
    outline = load_outline(written(tmp_path, body))
    (step,) = outline.steps()
    assert step.cautions == ("Hot.",)
    assert (outline.power_tools, step.power_tools, outline.builds) == ("any", None, {})
    assert step.hardware[0].lengths == ()


def test_hazards_stand_with_the_cautions(tmp_path: Path) -> None:
    body = "caution = ['Hot.', 'Heavy.']\nhazard = [{ kind = 'lifting', caution = 'Heavy.' },\n"
    outline = load_outline(written(tmp_path, f"{body}  {{ kind = 'air', caution = 'Air.' }}]\n"))
    assert next(outline.steps()).cautions == ("Hot.", "Heavy.", "Air.")


def test_both_outlines_use_every_field(outline: Outline) -> None:
    items = [item for step in outline.steps() for item in step.hardware]
    used = {name for item in items for name, value in msgspec.structs.asdict(item).items() if value}
    assert used >= {"lengths", "always_replace", "inspect", "either_way", "mark", "build"}
    for field in ("hazard", "together", "stack", "check", "puts_back", "limit"):
        assert any(getattr(step, field) for step in outline.steps()), field
    assert outline.power_tools == "apart only"


def test_whatever_is_stripped_is_put_back_once(outline: Outline) -> None:
    back = [name for step in outline.steps() for name in step.puts_back]
    assert sorted(back) == sorted(
        step.id for step in outline.steps() if outline.kind_of[step.id] == "strip"
    )


def test_what_is_to_be_said_can_be_heard(outline: Outline) -> None:
    known = vocabulary_words(load_pack(outline))
    said = {word for spoken in spoken_words(outline) for word in spoken.words.split()}
    assert said - known == set()


def test_lengths_builds_and_marks_are_understood() -> None:
    outline = load_outline("reversing_gearbox")
    parser = Parser(load_pack(outline))
    items = [item for step in outline.steps() for item in step.hardware]
    for mark in {item.mark for item in items if item.mark}:
        (found,) = parser.parse(f"outer rotor {mark}").findings
        assert found.mark is not None
        assert found.mark in mark
    for name, options in outline.builds.items():
        for option in options:
            (found,) = parser.parse(f"{option} out").findings
            assert found.part == option, name
    for group in (group for item in items for group in item.lengths):
        (found,) = parser.parse(f"bolts off the end cover {group.where}").findings
        assert found.place is not None
        assert group.where in found.place


def test_a_length_is_heard_as_the_outline_writes_it() -> None:
    parser = Parser(load_pack(load_outline("reversing_gearbox")))
    say = "six bolts off the end cover inch and a quarter long"
    found = remark_to_json(parser.parse(say))["findings"][0]
    assert found["size"]["length"]["text"] == "1 1/4 in"
