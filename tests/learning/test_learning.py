"""What is learnt from corrections, written to a word file, and used by the next job."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from benchvoice.audio import Samples
from benchvoice.bench.desk import Desk
from benchvoice.bench.ears import Ears
from benchvoice.cli import main
from benchvoice.follow import find_step, restore
from benchvoice.follow.advance import advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.hearing import Heard, ScriptedEngine, pronounce
from benchvoice.language import Parser
from benchvoice.learning import Pair, keep, measure, measure_by_ear, pairs_of, propose, taught
from benchvoice.learning.swaps import swaps, words_of
from benchvoice.session import Corrections, Header, ScriptedClock, correcting, read_session

START = datetime(2026, 3, 2, 8, 0, tzinfo=timezone(timedelta(hours=-5)))
OUTLINE = load_outline("reversing_gearbox")
PACK = load_pack(OUTLINE)
PARSER = Parser(PACK)


def sounding(words: Iterable[str]) -> Mapping[str, tuple[str, ...]]:
    return pronounce(words, PACK.pronounce).entries


def pair(was: str, became: str, *, by_ear: bool = True, seq: int = 1, **more: object) -> Pair:
    return Pair(session="job", seq=seq, was=was, became=became, by_ear=by_ear, **more)  # type: ignore[arg-type]


def corrected(folder: Path, *lines: tuple[str, str | None]) -> Path:
    """A session of typed lines, those with a second text retyped as that."""
    clock = ScriptedClock(START).clock
    with Desk.open(Ears(PACK, None), folder, Header(outline="reversing_gearbox"), clock) as desk:
        for text, _ in lines:
            desk.typed(text)
    with Corrections.open(folder, "me", clock) as corrections:
        for seq, (_, text) in enumerate(lines, start=1):
            if text is not None:
                session = corrections.session
                state = restore(session.log[: seq - 1], 0)
                event = advance(state, PARSER.parse(text), PACK, 0.0)[1]
                corrections.amend(correcting.retype(session, seq, [event]))
    return folder


JOB = (
    ("eight zappers off the end cover", "eight bolts off the end cover"),
    ("one zapper bent", "one bolt bent"),
    ("two dowel pins good", None),
    ("twelve zappers off the front cover", "twelve bolts off the front cover"),
    ("six cap screws off the coupling", None),
)


def test_texts_are_laid_side_by_side() -> None:
    found = [ways[0] for ways in swaps("eight zappers off of front", "eight bolts off of the rear")]
    assert found == [(("zappers",), ("bolts",)), (("front",), ("the", "rear"))]
    assert words_of("8 bolts, M8x1.25!") == ["8", "bolts", "m8x1.25"]


def test_only_what_was_corrected_is_looked_at(tmp_path: Path) -> None:
    session = read_session(corrected(tmp_path / "job", *JOB))
    found = list(pairs_of(session))
    assert [(one.seq, one.was, one.became) for one in found] == [
        (seq, was, became) for seq, (was, became) in enumerate(JOB, start=1) if became
    ]


def test_a_word_said_for_a_term_becomes_a_way_to_say_it_in_the_singular(tmp_path: Path) -> None:
    pairs = list(pairs_of(read_session(corrected(tmp_path / "job", *JOB))))
    (found,) = propose(pairs, PACK)
    assert (found.kind, found.said, found.meant, found.term) == (
        *("synonym", "zapper", "bolt", "part"),
    )
    assert (found.seen, found.example.seq) == (3, 1)
    assert propose(pairs, PACK, least=4) == ()


def test_a_known_word_is_never_made_to_mean_something_else() -> None:
    assert propose([pair("eight nuts off", "eight bolts off")], PACK) == ()
    assert propose([pair("eight bolts off", "nine bolts off")], PACK) == ()


def test_short_forms_are_told_from_words() -> None:
    (found,) = propose([pair("two flngs cracked", "two flanges cracked", by_ear=False)], PACK)
    assert (found.kind, found.said, found.meant) == ("short form", "flngs", "flanges")


def test_a_step_is_called_as_its_user_calls_it() -> None:
    (found,) = propose([pair("start the doghouse", "start the end cover")], PACK)
    moved = pair(
        *("two bolts at the pump", "two bolts at the pump"),
        step_was="drain",
        step_became="end_cover",
        places=("nose",),
    )
    (alias,) = propose([moved], PACK)
    assert (alias.kind, alias.said, alias.meant) == ("step", "nose", "end_cover")
    learnt = taught(PACK, [found, alias])
    assert learnt.outline is not None
    if found.kind == "step":
        assert find_step("doghouse", learnt.outline)[0].id == "end_cover"
    assert find_step("nose", learnt.outline)[0].id == "end_cover"


def test_a_word_heard_as_another_of_like_sound_gets_that_sound_besides_its_own() -> None:
    """In the CMU Pronouncing Dictionary "seal" is S IY L and "steel" S T IY L."""
    (found,) = propose([pair("one steel cracked", "one seal cracked")], PACK, sounding)
    assert (found.kind, found.meant, found.sounds) == ("sound", "seal", ("S IY L", "S T IY L"))
    assert (
        propose([pair("one steel cracked", "one seal cracked", by_ear=False)], PACK, sounding) == ()
    )
    assert propose([pair("one gear cracked", "one seal cracked")], PACK, sounding) == ()


def test_the_gain_is_measured_on_corrections_that_were_not_learnt_from(tmp_path: Path) -> None:
    session = read_session(corrected(tmp_path / "job", *JOB))
    pairs = list(pairs_of(session))
    gain = measure(pairs, [one.remark for one in session.entries if not one.corrected], PACK)
    assert (gain.pairs, gain.before, gain.after, gain.changed) == (3, 0, 3, 0)
    alone = measure(pairs[:1], [], PACK)
    assert (alone.before, alone.after) == (0, 0)  # nothing is left to learn it from


def test_what_is_kept_is_read_back_and_what_was_in_the_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "own" / "words.toml"
    path.parent.mkdir()
    path.write_text('# mine\n[[part]]\nname = "gizmo"  # a part of ours\n', encoding="utf-8")
    texts = [
        pair("eight zappers off", "eight bolts off"),
        pair("one steel cracked", "one seal cracked"),
        pair("start the doghouse please", "start the end cover please"),
        pair("two flngs cracked", "two flanges cracked", by_ear=False),
    ]
    proposals = propose(texts, PACK, sounding)
    keep(path, proposals, load_pack(OUTLINE, [path]))
    text = path.read_text(encoding="utf-8")
    assert "# mine" in text
    assert "# a part of ours" in text
    again = load_pack(OUTLINE, [path])
    bolt, was = again.part_by_name["bolt"], PACK.part_by_name["bolt"]
    assert set(bolt.say) == {*was.say, "zapper"}
    assert (bolt.kind, bolt.weight) == (was.kind, was.weight)
    assert again.pronounce["seal"] == ("S IY L", "S T IY L")
    assert again.typed["flngs"] == "flanges"
    read = Parser(again).parse("eight zappers off").findings
    assert read == PARSER.parse("eight bolts off").findings
    keep(path, proposals, again)
    assert load_pack(OUTLINE, [path]).part_by_name["bolt"].say == bolt.say


@pytest.fixture
def learn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Callable[..., tuple[int, str, str]]:
    monkeypatch.setenv("BENCHVOICE_HOME", str(tmp_path / "home"))
    folder = corrected(tmp_path / "job", *JOB)

    def run(*argv: str) -> tuple[int, str, str]:
        code = main(["learn", str(folder), *argv])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_listing_writes_nothing(learn: Callable[..., tuple[int, str, str]], tmp_path: Path) -> None:
    code, out, _ = learn("--list")
    assert code == 0
    assert 'part "bolt" is also said "zapper", seen 3 times' in out
    assert 'typed "eight zappers off the end cover", put right "eight bolts off' in out
    assert "Of 3 retyped remarks 0 would be read right as recorded, 3 with" in out
    assert not (tmp_path / "home").exists()


def test_all_is_taken_with_yes_and_then_there_is_nothing_new(
    learn: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    assert learn("--yes")[0] == 0
    assert "zapper" in (tmp_path / "home" / "words.toml").read_text(encoding="utf-8")
    assert "They teach no new words." in learn("--yes")[1]


def test_each_is_asked_for(
    learn: Callable[..., tuple[int, str, str]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    answers = iter(["what", "n"])
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    assert "0 entries put into" in learn()[1]
    assert not (tmp_path / "home").exists()


def test_without_anybody_to_ask_it_says_what_to_give(
    learn: Callable[..., tuple[int, str, str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin.isatty", lambda: False)
    code, out, err = learn()
    assert (code, out) == (2, "")
    assert "--list or --yes" in err


def test_a_word_file_with_a_mistake_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "words.toml"
    path.write_text('[[part]]\nname = "Gizmo 2"\n', encoding="utf-8")
    before = path.read_bytes()
    (found,) = propose([pair("eight zappers off", "eight bolts off")], PACK)
    with pytest.raises(Exception, match="cannot be spoken"):
        keep(path, [found], PACK)
    assert path.read_bytes() == before
    assert json.dumps([one.name for one in tmp_path.iterdir()]) == '["words.toml"]'


def test_clips_held_out_are_listened_to_again_with_the_sounds_learnt(tmp_path: Path) -> None:
    """An engine that hears "steel" until "seal" may sound so, as the pack of the ears says."""

    class Engine:
        name = "pretending"
        missing = ()

        def __init__(self, pack: Pack) -> None:
            self.pack = pack

        def hear(self, samples: Samples) -> Heard:
            learnt = "S T IY L" in self.pack.pronounce.get("seal", ())
            return ScriptedEngine([f"one {'seal' if learnt else 'steel'} cracked"]).hear(samples)

    clip = tmp_path / "clip.flac"
    shutil.copy(Path(__file__).parents[1] / "recordings" / "human" / "digits.flac", clip)
    pairs = [
        pair("one steel cracked", "one seal cracked", seq=seq, clip=clip) for seq in range(1, 4)
    ]
    gain = measure_by_ear(pairs, PACK, lambda pack: Ears(pack, Engine(pack)), sounding)
    assert (gain.clips, gain.before, gain.after) == (1, 0, 1)
    assert measure_by_ear([], PACK, lambda pack: Ears(pack, None), sounding).clips == 0
