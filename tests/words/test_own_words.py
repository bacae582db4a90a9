from __future__ import annotations

from pathlib import Path

import pytest

from benchvoice.errors import GrammarError
from benchvoice.grammar import load_outline, load_pack
from benchvoice.hearing import pronounce
from benchvoice.language import Parser
from benchvoice.words import (
    FILE_NAME,
    Sounds,
    listed,
    own_files,
    sounds_like,
    sounds_of,
    user_home,
)
from benchvoice.words.editing import add_word, remove_word


def test_a_word_that_is_added_is_understood_and_heard_until_it_is_removed(tmp_path: Path) -> None:
    path = tmp_path / "new" / FILE_NAME
    add_word(path, "trunnion nut", "part", sounds={"trunnion": ("T R AH N Y AH N",)})
    add_word(path, "knuckle boss", "place", say=["the boss"])
    pack = load_pack(load_outline("worm_reducer"), own_files(path.parent))
    (finding,) = Parser(pack).parse("two trunnion nuts off the boss").findings
    assert (finding.part, finding.count, finding.place) == ("trunnion nut", 2, "knuckle boss")
    assert pronounce(["trunnion"], pack.pronounce).missing == ()
    assert [(one.name, one.kind) for one in listed(path)] == [
        *(("trunnion nut", "part"), ("knuckle boss", "place")),
    ]
    assert remove_word(path, "trunnion nut")
    assert not remove_word(path, "trunnion nut")
    assert "trunnion" not in path.read_text(encoding="utf-8")
    assert [one.name for one in listed(path)] == ["knuckle boss"]


def test_what_the_user_wrote_into_the_file_stays(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    path.write_text(
        "# my own\npart = [\n"
        '  { name = "knuckle", kind = "other" },  # of the old pump\n]\n\n'
        '[pronounce]\nknuckle = ["N AH K AH L"]\n',
        encoding="utf-8",
    )
    add_word(path, "trunnion", "part", sounds={"trunnion": ("T R AH N Y AH N",)})
    add_word(path, "trunnion", "part", say=["trunny"], part_kind="shaft")
    text = path.read_text(encoding="utf-8")
    assert "# my own" in text
    assert "# of the old pump" in text
    assert [(one.name, one.say) for one in listed(path)] == [
        *(("knuckle", ()), ("trunnion", ("trunny",))),
    ]
    assert load_pack(None, own_files(tmp_path)).part_by_name["trunnion"].kind == "shaft"


def test_a_file_that_is_marked_as_utf_8_is_read_and_added_to(tmp_path: Path) -> None:
    """As Windows editors write it (RFC 3629, section 6)."""
    path = tmp_path / FILE_NAME
    path.write_text('[[part]]\nname = "knuckle"\n', encoding="utf-8-sig")
    add_word(path, "trunnion", "part")
    assert [one.name for one in listed(path)] == ["knuckle", "trunnion"]


def test_only_the_sounds_of_a_known_word_may_be_changed(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    add_word(path, "spanner", None, sounds={"spanner": ("S P AE N AH",)})
    pack = load_pack(None, own_files(tmp_path))
    assert pronounce(["spanner"], pack.pronounce).entries["spanner"] == ("S P AE N AH",)
    assert [(one.name, one.kind) for one in listed(path)] == [("spanner", None)]
    assert remove_word(path, "spanner")


@pytest.mark.parametrize(
    ("content", "line", "what"),
    [
        ('[[part]]\nname = "Trunnion"\n', 2, "cannot be spoken"),
        ('[[part]]\nname = "knuckle"\nsort = "x"\n', 3, "not a known entry"),
        ('[pronounce]\nknuckle = ["N AH K AH L"]\nzerk = ["Z ER Q"]\n', 3, '"Q" is not a sound'),
        ("[[part]\n", 1, "not valid TOML"),
    ],
)
def test_a_mistake_in_the_file_is_named_with_its_line(
    content: str, line: int, what: str, tmp_path: Path
) -> None:
    path = tmp_path / FILE_NAME
    path.write_text(content, encoding="utf-8")
    with pytest.raises(GrammarError, match=what) as caught:
        own_files(tmp_path)
    assert (caught.value.file, caught.value.line) == (path, line)
    before = path.read_bytes()
    with pytest.raises(GrammarError):
        add_word(path, "boss", "part")
    assert path.read_bytes() == before


def test_a_bad_addition_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    add_word(path, "knuckle", "part")
    before = path.read_bytes()
    for name, sounds in (("M12 nut", None), ("zerk", {"zerk": ("Z ER Q",)})):
        with pytest.raises(GrammarError):
            add_word(path, name, "part", sounds=sounds)
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == [FILE_NAME]


def test_where_sounds_come_from() -> None:
    given = load_pack().pronounce
    assert sounds_of("bolt", given) == Sounds("bolt", ("B OW L T",), "dictionary")
    own = sounds_of("bolt", given, own=("B AO L T",))
    assert own == Sounds("bolt", ("B AO L T",), "given")
    forms = sounds_of("shimless", given)
    assert forms is None or forms.is_guess
    guess = sounds_of("frobnicator", given, guesser=lambda word: ("F", "R", "AA", "B"))
    assert guess == Sounds("frobnicator", ("F R AA B",), "spelling")
    assert sounds_of("frobnicator", given) is None


def test_a_word_that_sounds_like_another_is_told() -> None:
    words = ["bolt", "seal", "circlip"]
    assert sounds_like(Sounds("bold", ("B OW L D",), "given"), words, {}) == "bolt"
    assert sounds_like(Sounds("trunnion", ("T R AH N Y AH N",), "given"), words, {}) == ""


def test_the_users_folder_can_be_named(tmp_path: Path) -> None:
    assert user_home({"BENCHVOICE_HOME": str(tmp_path)}) == tmp_path
    assert user_home({}).name == "benchvoice"
    assert own_files(tmp_path) == ()


def test_a_folder_for_the_words_that_is_none_is_said(tmp_path: Path) -> None:
    (tmp_path / "home").write_bytes(b"")
    with pytest.raises(GrammarError, match="cannot be written"):
        add_word(tmp_path / "home" / FILE_NAME, "knuckle", "part")
