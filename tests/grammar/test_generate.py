"""The pack as a generator of weighted sentences."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from random import Random

import msgspec
import pytest

from benchvoice.errors import GrammarError
from benchvoice.grammar import Outline, Pack, load_outline, load_pack
from benchvoice.grammar.commanding import command_pool
from benchvoice.grammar.generate import Sentence, sentences, vocabulary_words
from benchvoice.grammar.outline_talk import as_spoken, outline_sayings
from benchvoice.grammar.pack import FUNCTION_WORDS, part_forms
from benchvoice.grammar.slots import Slots
from benchvoice.grammar.spoken import cardinal
from benchvoice.grammar.templates import SLOTS, spread
from benchvoice.grammar.vocabulary import Command, Part, Quantity, Template, Unit
from benchvoice.language import Parser
from benchvoice.language.threads import METRIC_PITCHES, is_inch_thread
from benchvoice.remark import Finding

COUNT = 6_000
SPOKEN = re.compile(r"[a-z']*[a-z][a-z']*")


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack()


@pytest.fixture(scope="module", params=["reversing_gearbox", "worm_reducer"])
def outline(request: pytest.FixtureRequest) -> Outline:
    return load_outline(str(request.param))


@pytest.fixture(scope="module")
def talk(pack: Pack) -> list[Sentence]:
    return list(sentences(pack, count=COUNT, seed=5))


def drawn(talk: list[Sentence]) -> list[str]:
    return [sentence.text for sentence in talk if sentence.weight == 1.0]


def test_as_many_as_asked_for_and_the_coverage(talk: list[Sentence]) -> None:
    assert len(drawn(talk)) == COUNT
    assert len(talk) > COUNT
    assert all(sentence.weight > 0 for sentence in talk)


def test_only_spoken_words(talk: list[Sentence], outline: Outline) -> None:
    of_outline = sentences(load_pack(outline), count=COUNT)
    words = {word for sentence in (*talk, *of_outline) for word in sentence.words}
    assert [word for word in words if not SPOKEN.fullmatch(word)] == []


def test_no_sentence_is_empty(talk: list[Sentence]) -> None:
    assert all(sentence.words for sentence in talk)


def test_the_same_seed_gives_the_same(pack: Pack) -> None:
    first = list(sentences(pack, count=300, seed=9))
    assert first == list(sentences(pack, count=300, seed=9))
    assert first != list(sentences(pack, count=300, seed=8))


def test_every_way_of_every_term_is_said(pack: Pack, talk: list[Sentence]) -> None:
    said = {sentence.text for sentence in talk}
    ways: set[str] = set()
    for _, term in pack.terms():
        ways.update(way.partition(" {")[0] for way in term.say)
        if isinstance(term, Part):
            ways.update(*part_forms(term))
        elif not isinstance(term, Unit):
            ways.add(term.name)
    assert ways - said == set()


def test_function_words_and_numbers_can_be_heard(pack: Pack) -> None:
    words = vocabulary_words(pack)
    counted = {word for number in range(1001) for word in cardinal(number).split()}
    assert (FUNCTION_WORDS | counted) - words == set()


def test_vocabulary_is_all_that_is_said(pack: Pack, talk: list[Sentence]) -> None:
    assert {word for sentence in talk for word in sentence.words} <= vocabulary_words(pack)


def test_vocabulary_of_an_outline_is_all_that_is_said(outline: Outline) -> None:
    own = load_pack(outline)
    said = {word for sentence in sentences(own, count=COUNT) for word in sentence.words}
    assert said <= vocabulary_words(own)


def test_a_command_about_every_eighth_time(pack: Pack, talk: list[Sentence]) -> None:
    starts = {said.words for said in command_pool(pack)}
    share = sum(text in starts for text in drawn(talk)) / COUNT
    assert share == pytest.approx(0.12, abs=0.02)  # six standard deviations


def test_commands_are_understood_as_commands(pack: Pack, outline: Outline) -> None:
    for own in (pack, load_pack(outline)):
        parser = Parser(own)
        pool = command_pool(own)
        missed = [said for said in pool if parser.parse(said.words).command != said.value]
        assert len(missed) <= 0.02 * len(pool), missed


def test_steps_are_said_with_start_finish_and_go(outline: Outline) -> None:
    text = {sentence.text for sentence in sentences(load_pack(outline))}
    names = outline_sayings(outline)
    assert as_spoken(next(outline.steps()).title) in names
    assert set(names) <= text
    for words in ("go to", "start", "finish"):
        assert sum(f"{words} {name}" in text for name in names) >= 10, words


def test_hardware_of_an_outline_is_said_with_its_true_count(outline: Outline) -> None:
    """Each counted hardware comes up more often with its own count than with all others."""
    parser = Parser(load_pack(outline))
    counts: dict[tuple[str, str], Counter[int]] = {}
    for text in drawn(list(sentences(load_pack(outline), count=12_000))):
        for found in parser.parse(text).findings:
            if found.part and found.place and found.count and plain(found):
                counts.setdefault((found.part, found.place), Counter())[found.count] += 1
    wanted = Counter((h.part, h.place or "") for step in outline.steps() for h in step.hardware)
    checked = 0
    for step in outline.steps():
        for hardware in step.hardware:
            key = (hardware.part, hardware.place or "")
            if hardware.count > 2 and wanted[key] == 1 and key in counts:
                assert counts[key].most_common(1)[0][0] == hardware.count, key
                checked += 1
    assert checked >= 5


def plain(found: Finding) -> bool:
    return found.measure is None and found.ordinal is None


def test_an_outline_is_two_fifths_of_the_talk(outline: Outline) -> None:
    """Its own step names and hardware: more of them than without the outline."""
    own, names = load_pack(outline), set(outline_sayings(outline))
    bare = sum(text in names for text in drawn(list(sentences(own, count=COUNT))))
    assert bare / COUNT == pytest.approx(0.06, abs=0.015)  # 15 in 100 of two fifths, by design


def test_every_slot_is_handled(pack: Pack) -> None:
    for slot in SLOTS:
        only = msgspec.structs.replace(pack, template=(Template(say=f"the {{{slot}}}"),))
        texts = {sentence.text for sentence in sentences(only, count=50)}
        assert any(text.startswith("the ") for text in texts), slot


def test_optional_and_alternative_words_are_spread() -> None:
    rows = {" ".join(i.words or i.slot for i in row) for row in spread("[the] {part} (is|was) off")}
    assert rows == {
        *("the part is off", "part is off", "the part was off", "part was off"),
    }


@pytest.mark.parametrize(
    "template", ["{count} {gizmo}", "(a|b {part}", "[the {part}", "<rule> a", "", "[ ]"]
)
def test_a_mistaken_template_is_named(pack: Pack, template: str) -> None:
    mistaken = msgspec.structs.replace(pack, template=(Template(say=template),))
    with pytest.raises(GrammarError) as caught:
        list(sentences(mistaken, count=1))
    assert template in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("entry", "line", "wrong"),
    [
        ('[[part]]\nname = "knuckle"\nweight = nan\n', 3, "weight: expected a number >= 0"),
        ('[[part]]\nname = "knuckle"\nweight = inf\n', 3, "weight: expected a number <= 1000"),
        ('[[template]]\nsay = "[the {part}"\n', 2, "cannot be read"),
        ('[[template]]\nsay = "|"\n', 2, "says nothing"),
    ],
)
def test_what_nothing_can_be_drawn_from_is_refused_with_its_line(
    tmp_path: Path, entry: str, line: int, wrong: str
) -> None:
    path = tmp_path / "words.toml"
    path.write_text(entry, encoding="utf-8")
    with pytest.raises(GrammarError, match=wrong) as caught:
        load_pack(None, [path])
    assert (caught.value.file, caught.value.line) == (path, line)


def test_a_quantity_without_a_known_unit_is_not_drawn(pack: Pack) -> None:
    none = Quantity(name="knurl", units=("furlong",), weight=1000)
    slots = Slots(msgspec.structs.replace(pack, quantity=(*pack.quantity, none)), Random(1))
    draw = slots.measure()
    assert "knurl" not in {draw().value["quantity"] for _ in range(100)}


def test_plurals_go_with_their_counts(pack: Pack) -> None:
    only = msgspec.structs.replace(
        pack,
        template=(Template(say="{count} {parts}"), Template(say="{count} {part} {condition}")),
        filler=(),
        part=(Part(name="key"),),
        command=(Command(name="next"),),
    )
    counted = Counter(
        (sentence.words[0] in ("one", "a"), {"key", "keys"} & set(sentence.words) == {"key"})
        for sentence in sentences(only, count=2000)
        if sentence.weight == 1.0 and {"key", "keys"} & set(sentence.words)
    )
    joined = counted[True, False] + counted[False, True]
    assert joined < 0.15 * sum(counted.values())  # only where two remarks run together


def test_own_words_of_a_user_are_said(tmp_path: Path) -> None:
    extra = tmp_path / "own.toml"
    extra.write_text('part = [{ name = "frobnicator", say = ["frob"] }]\n', "utf-8")
    assert {"frobnicator", "frob", "frobs"} <= vocabulary_words(load_pack(extra=[extra]))


def test_threads_said_are_standard_ones(pack: Pack) -> None:
    """ASME B1.1 and ISO 261, by the tables of the language stage (from memory)."""
    from benchvoice.grammar.readings import INCH_THREADS, METRIC_THREADS

    for thread in INCH_THREADS:
        nominal, _, pitch = thread.partition("-")
        assert is_inch_thread(nominal, int(pitch)), thread
    for thread in METRIC_THREADS:
        size, _, pitch = thread[1:].partition("x")
        assert int(size) in METRIC_PITCHES, thread
        assert not pitch or float(pitch) in METRIC_PITCHES[int(size)], thread
