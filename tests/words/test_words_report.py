from __future__ import annotations

from pathlib import Path

from benchvoice.words import FILE_NAME, talk_report
from benchvoice.words.editing import add_word


def test_what_is_missing_is_named_with_what_mends_it(tmp_path: Path) -> None:
    checks = talk_report(tmp_path, voice=lambda: None, guesser=lambda: None)
    assert [one.present for one in checks] == [False, False, True]
    assert all(one.mend for one in checks if not one.present)
    add_word(tmp_path / FILE_NAME, "knuckle", "part")
    checks = talk_report(tmp_path, voice=lambda: ("a voice", None), guesser=lambda: tuple)
    assert [one.present for one in checks] == [True, True, True]
    assert checks[2].detail.startswith("1 in ")


def test_a_mistake_in_the_list_is_named_with_its_line(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text('[[part]]\nname = "M8"\n', encoding="utf-8")
    check = talk_report(tmp_path, voice=lambda: None, guesser=lambda: None)[2]
    assert not check.present
    assert f"{FILE_NAME}:2" in check.mend


def test_a_mistake_of_the_whole_list_has_no_line(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_bytes(b"\xff")
    check = talk_report(tmp_path, voice=lambda: None, guesser=lambda: None)[2]
    assert not check.present
    assert check.mend.endswith(f"({tmp_path / FILE_NAME})")
