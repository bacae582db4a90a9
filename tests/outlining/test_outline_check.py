"""An outline looked through: all mistakes at once, each with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchvoice.errors import GrammarError
from benchvoice.grammar import grammars_folder, load_outline
from benchvoice.outlining import look_through, report_text

GOOD = """\
name = "t"
title = "T"
unit = "pump"

[[stage]]
id = "strip"
title = "Strip"
kind = "strip"

[[stage.step]]
id = "one"
title = "One"
minutes = 5
hardware = [
  { part = "bolt", count = 4, place = "front cover" },
  { part = "stud", count = 2 },
]

[[stage.step]]
id = "two"
title = "Two"
after = ["one"]
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "t.toml"
    path.write_text(text, encoding="utf-8")
    return path


def lines(folder: Path, text: str) -> list[int | None]:
    return [problem.line for problem in look_through(written(folder, text)).problems]


def line(text: str, piece: str) -> int:
    """The 1-based line that `piece` is on: what a person counts in an editor."""
    return text[: text.index(piece)].count("\n") + 1


@pytest.mark.parametrize("name", ["reversing_gearbox", "worm_reducer"])
def test_the_outlines_that_come_along_have_no_mistakes(name: str) -> None:
    report = look_through(grammars_folder() / "outlines" / f"{name}.toml")
    assert report.problems == ()
    assert (report.unheard, report.not_understood, report.unsourced) == ((), (), ())
    steps = list(load_outline(name).steps())
    assert report.minutes == sum(step.minutes or 0 for step in steps)
    assert f"{len(steps)} steps" in " ".join(report_text(report).split())


BROKEN = {
    "colour = 3": ("name =", "colour = 3\nname ="),
    "minutes = 0": ("minutes = 5", "minutes = 0"),
    "cuont": ("place = ", "cuont = 1, place = "),
    "count = -2": ("count = 2", "count = -2"),
    '"nowhere"': ('after = ["one"]', 'after = ["nowhere"]'),
    'say = ["Two!"]': ("after =", 'say = ["Two!"]\nafter ='),
}


def test_all_mistakes_are_told_at_once_with_their_lines(tmp_path: Path) -> None:
    text = GOOD
    for old, new in BROKEN.values():
        text = text.replace(old, new, 1)
    assert sorted(lines(tmp_path, text)) == sorted(line(text, piece) for piece in BROKEN)  # type: ignore[type-var]
    with pytest.raises(GrammarError):
        load_outline(tmp_path / "t.toml")


@pytest.mark.parametrize("piece", BROKEN)
def test_each_of_them_alone_is_told_alone(tmp_path: Path, piece: str) -> None:
    text = GOOD.replace(*BROKEN[piece], 1)
    assert lines(tmp_path, text) == [line(text, piece)]


def test_lines_are_right_after_a_broken_entry_of_a_list(tmp_path: Path) -> None:
    text = GOOD.replace('{ part = "bolt"', '{ patr = "bolt"').replace("count = 2", 'count = "x"')
    report = look_through(written(tmp_path, text))
    found = [problem.line for problem in report.problems]
    assert set(found) == {line(text, "patr"), line(text, 'count = "x"')}
    assert not report.whole
    assert "looked at then" in report_text(report)


def test_steps_in_a_circle_are_told(tmp_path: Path) -> None:
    text = GOOD.replace("minutes = 5", 'after = ["two"]')
    (problem,) = look_through(written(tmp_path, text)).problems
    assert "circle" in problem.what
    assert problem.line == line(text, "after =")


def test_what_an_outline_lacks_is_told(tmp_path: Path) -> None:
    text = GOOD.replace(
        "minutes = 5", 'minutes = 5\nlimit = [{ quantity = "backlash", unit = "thou", high = 9 }]'
    )
    text = text.replace('part = "stud"', 'part = "xqzvt spring"')
    report = look_through(written(tmp_path, text))
    assert report.problems == ()
    assert report.untimed == ("Two",)
    assert report.uncautioned == ("One",)  # a spring, and no caution
    assert report.unsourced == ("One: backlash",)
    assert report.unheard == ("xqzvt",)
    assert report.not_understood == ("xqzvt spring",)
    shown = report_text(report)
    for heading in ("without minutes", "no caution", "without a source", "cannot be heard"):
        assert heading in shown


def test_what_is_no_toml_hides_the_rest(tmp_path: Path) -> None:
    with pytest.raises(GrammarError, match="is not valid TOML"):
        look_through(written(tmp_path, "name = \n"))


def test_words_that_the_user_has_taught_are_known(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD.replace('part = "stud"', 'part = "zorble nut"'))
    own = tmp_path / "words.toml"
    own.write_text('[[part]]\nname = "zorble nut"\nkind = "fastener"\n', encoding="utf-8")
    assert look_through(path).not_understood or look_through(path).problems
    taught = look_through(path, (own,))
    assert (taught.not_understood, taught.problems) == ((), ())
