"""`benchvoice quote` in all its ways, on the demo history; numbers are tested in tests/quoting."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from benchvoice.cli import main

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"
THREE = [str(HISTORY / name) for name in ("invented_02", "invented_05", "invented_09")]
QUOTE = ["quote", "--outline", "reversing_gearbox"]


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def run(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str, str]:
    code = main([*QUOTE, *argv])
    out, err = capsys.readouterr()
    return code, out, err


def test_promised_hours_are_answered_in_text_and_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, *THREE, "--promised", "24")
    assert code == 0
    assert re.search(r"Promised 24 hours: \d+% of such jobs take longer", out)
    assert "What makes the whole job uncertain" in out
    assert max(map(len, out.splitlines())) <= 80
    code, out, _ = run(capsys, *THREE, "--promised", "24", "--json")
    assert json.loads(out)["promise"]["hours"] == 24
    assert 0 <= json.loads(out)["promise"]["over"] <= 1


def test_a_step_is_explained_by_its_id_or_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    texts = [run(capsys, *THREE, "--explain", step)[1] for step in ("front_cover", "front cover")]
    assert texts[0] == texts[1]
    assert "Book: 25 min" in texts[0]
    assert "invented_02 2024-04-09: " in texts[0]
    code, _, err = run(capsys, *THREE, "--explain", "no such step")
    assert code == 2
    assert "has no step" in err
    assert err.count("\n") == 1


def test_past_sessions_put_the_quote_to_the_test(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, *THREE, "--backtest")
    assert code == 0
    assert [line.split()[0] for line in out.splitlines() if line.startswith("invented_")] == [
        "invented_02", "invented_05", "invented_09",
    ]  # fmt: skip
    assert "3 totals" in out
    code, out, _ = run(capsys, *THREE, "--backtest", "--forward")
    assert out.count("\ninvented_") == 2
    code, _, err = run(capsys, THREE[0], "--backtest")
    assert (code, "too few" in err) == (2, True)


def test_a_kept_quote_is_held_against_the_session(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    kept = tmp_path / "quote.json"
    _, out, _ = run(capsys, *THREE[:2], "--save", str(kept), "--json")
    assert json.loads(out).items() <= json.loads(kept.read_text()).items()
    code, out, _ = run(capsys, "--against", THREE[2], "--saved", str(kept))
    assert code == 0
    assert "Session invented_09 against the quote of" in out
    assert "steps that were timed" in out
    code, out, _ = run(capsys, *THREE, "--against", THREE[2])
    assert "made anew from 2 sessions before this one" in " ".join(out.split())
    code, _, err = run(capsys, *THREE, "--save", str(kept))
    assert (code, "is there already" in err) == (2, True)


@pytest.mark.parametrize(
    "argv", [("--promised", "-1"), ("--half-life", "0"), ("--promised", "nan"), ("--rate", "0")]
)
def test_what_cannot_be_used_is_refused_in_one_line(
    capsys: pytest.CaptureFixture[str], argv: tuple[str, str]
) -> None:
    code, _, err = run(capsys, *argv)
    assert code == 2
    assert err.startswith("benchvoice: ")
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("argv", "what"),
    [
        ("--explain front_cover --save q.json", "--save does nothing with --explain"),
        ("--backtest --json", "--json does nothing with --backtest"),
        ("--backtest --who jan", "--who does nothing with --backtest"),
        (f"--against {THREE[2]} --out q.txt", "--out does nothing with --against"),
        ("--revise given.json --explain front_cover", "--revise does nothing with --explain"),
        ("--revise given.json --parts job --save q.json", "--save does nothing with --revise"),
        ("--rate 95 --format text --promised 20", "--promised does nothing with --format"),
        ("--forward", "--forward does nothing alone; give --backtest as well"),
        ("--saved q.json", "--saved does nothing alone; give --against as well"),
        ("--on 2026-03-02 --rate 95", "--on does nothing alone"),
    ],
)
def test_what_would_be_passed_over_is_refused(
    capsys: pytest.CaptureFixture[str], argv: str, what: str
) -> None:
    code, out, err = run(capsys, *argv.split())
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert what in err


def test_a_priced_quote_is_kept_as_well(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    kept, page = tmp_path / "quote.json", tmp_path / "page.txt"
    save = ("--save", str(kept))
    code, _, _ = run(capsys, *THREE, "--rate", "95", "--out", str(page), *save)
    assert (code, page.exists()) == (0, True)
    code, out, _ = run(capsys, "--against", THREE[2], "--saved", str(kept))
    assert (code, "steps that were timed" in out) == (0, True)


def test_a_rate_wins_over_that_of_the_terms_and_json_is_a_format(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    terms = tmp_path / "terms.toml"
    terms.write_text("rate = 80\n", encoding="utf-8")
    argv = (*THREE, "--terms", str(terms))
    _, out, _ = run(capsys, *argv, "--json")
    assert json.loads(out)["rate"] == "80"
    _, out, _ = run(capsys, *argv, "--rate", "95", "--format", "json")
    assert json.loads(out)["rate"] == "95"


def test_a_second_quote_from_the_index_is_the_same(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    first = run(capsys, *THREE, "--json")
    assert list((tmp_path / "cache").rglob("past_sessions.sqlite3"))
    assert run(capsys, *THREE, "--json") == first


def test_a_supplement_tells_what_is_still_to_be_decided(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    kept = tmp_path / "given.json"
    given = ("--rate", "95", "--format", "json", "--out", str(kept))
    assert run(capsys, *THREE, *given)[0] == 0
    found = ("--rate", "95", "--revise", str(kept), "--parts", str(HISTORY / "invented_04"))
    code, out, _ = run(capsys, *THREE, *found, "--format", "json")
    assert code == 0
    undecided = json.loads(out)["undecided"]
    assert undecided
    text = " ".join(run(capsys, *THREE, *found)[1].split())
    assert all(one in text for one in undecided)


@pytest.mark.parametrize(
    ("ending", "begins"), [(".html", "<!DOCTYPE html>"), (".json", "{"), (".csv", "group,what"),
                           (".txt", "Quote: ")],
)  # fmt: skip
def test_a_quote_is_of_the_kind_that_its_name_ends_in(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, ending: str, begins: str
) -> None:
    page = tmp_path / f"quote{ending}"
    code, _, _ = run(capsys, *THREE, "--rate", "95", "--out", str(page))
    assert code == 0
    assert page.read_text("utf-8").lstrip("\ufeff").lower().startswith(begins.lower())


@pytest.mark.parametrize("command", ["sheet", "quote"])
def test_a_name_that_promises_what_is_not_made_is_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, command: str
) -> None:
    page = tmp_path / "page.pdf"
    argv = {
        "sheet": ["sheet", THREE[0], "--kind", "parts"],
        "quote": [*QUOTE, *THREE, "--rate", "95"],
    }[command]
    assert main([*argv, "--out", str(page)]) == 2
    err = capsys.readouterr().err
    assert err == (
        f"benchvoice: {page}: no .pdf is made here; end it in .txt, .html (to print), "
        ".csv (for a spreadsheet) or .json\n"
    )
    assert not page.exists()
