"""The live screen: what it shows when, and the whole of it driven by keys."""

from __future__ import annotations

import sys
from dataclasses import replace
from io import StringIO
from pathlib import Path
from unittest.mock import Mock

import pytest
from prompt_toolkit.input import create_pipe_input
from screen_help import ENTER, OUTLINE, PACK, START, Tmux, feed, needs_tmux, output_of

from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.follow import State, advance
from benchvoice.grammar import Outline, load_pack
from benchvoice.language import Parser
from benchvoice.screens.big import HEIGHT, big_lines, big_width
from benchvoice.screens.cells import text_of
from benchvoice.screens.live import Ear, LiveScreen, View, draw, live_app
from benchvoice.session import Header, ScriptedClock, read_session

PARSER = Parser(PACK)


def view_of(*lines: str) -> View:
    view = View(outline=OUTLINE, state=State(), job="J-7").standing(State())
    for number, text in enumerate(lines):
        state, event = advance(view.state, PARSER.parse(text), PACK, 60.0 * number)
        view = view.recorded(Recorded(event), state)
    return view


def shown(view: View, columns: int = 80, rows: int = 24, *, blocks: bool = False) -> list[str]:
    screen = draw(view, columns, rows, blocks=blocks)
    return [text_of(one) for one in (*screen.above, screen.below)]


@pytest.mark.parametrize(("columns", "rows"), [(80, 24), (120, 40), (60, 16), (40, 12)])
@pytest.mark.parametrize("blocks", [True, False])
def test_it_fits_whatever_is_said(columns: int, rows: int, blocks: bool) -> None:
    said = ("start the end cover", "nine bolts off the end cover", "next", "what is left")
    for count in range(len(said) + 1):
        lines = shown(view_of(*said[:count]), columns, rows, blocks=blocks)
        assert len(lines) == rows - 1
        assert max(map(len, lines)) <= columns


def test_the_cautions_of_the_step_are_shown_before_its_parts() -> None:
    lines = shown(view_of("start the end cover"))
    caution = next(at for at, text in enumerate(lines) if "CAUTION" in text)
    parts = next(at for at, text in enumerate(lines) if "- of 10  bolts, end cover" in text)
    assert caution < parts


APART = (
    "start the drain", "drain plug out and the sealing washer", "start the pump", "six bolts off",
    "strip the pump", "five cap screws off the pump cover", "both rotors out",
    "take the valve off", "eight cap screws off the control valve", "two check balls out",
    "strip the valve", "two plugs out", "spool scored", "relief valve spring and detent spring out",
    "steel ball out", "strainer", "four bolts off the strainer", "strainer out",
    "start the forward piston", "snap ring out", "twelve return springs out",
)  # fmt: skip


@pytest.mark.parametrize(("columns", "rows"), [(80, 24), (60, 16), (100, 30)])
@pytest.mark.parametrize("step", ["pistons in", "hydraulics on", "strip the pump"])
def test_no_caution_of_a_step_is_crowded_out(step: str, columns: int, rows: int) -> None:
    """A caution has to be seen before work on its step begins."""
    for blocks in (True, False):
        view = view_of(*APART, step)
        assert view.cautions
        lines = shown(view, columns, rows, blocks=blocks)
        text = " ".join(" ".join(lines).split())
        assert all(" ".join(one.split()) in text for one in view.cautions)
        at = next(number for number, one in enumerate(lines) if "CAUTION" in one)
        assert at < next(number for number, one in enumerate(lines) if one.startswith("-- last"))


@pytest.mark.parametrize(("columns", "rows"), [(80, 24), (60, 16), (40, 12)])
def test_what_has_no_room_is_told_of(columns: int, rows: int) -> None:
    lines = shown(view_of(*APART, "hydraulics on"), columns, rows)
    more = [one for one in lines if "lines more than fit here" in one]
    assert more
    assert not any("lines more" in one for one in shown(view_of(*APART, "hydraulics on"), 200, 80))


@pytest.mark.parametrize("rows", [4, 5, 6, 7, 8, 10, 12])
def test_a_small_screen_has_the_cautions_before_all_else(rows: int) -> None:
    """What has no room is told of; a caution has to be seen before work on its step begins."""
    view = view_of("start the forward piston")
    for columns in (40, 80):
        lines = shown(view, columns, rows)
        assert len(lines) == rows - 1
        text = " ".join(" ".join(lines).split())
        whole = all(" ".join(one.split()) in text for one in view.cautions)
        assert whole or any(one.startswith(" CAUTION ... ") for one in lines)
        cautions = sum(one.startswith((" CAUTION", "         ")) for one in lines)
        assert whole or cautions >= rows - 2 - 3
    assert whole == (rows >= 6)


def test_after_an_aside_the_screen_has_the_step_that_done_is_of() -> None:
    view = view_of(*APART, "start the hydraulics", "four bolts off the side cover")
    assert (view.state.current, view.at_hand) == ("side_cover", "hydraulics_on")
    lines = shown(view)
    assert " PUMP, VALVE AND STRAINER ON" in lines
    assert any(one.startswith(" Side cover off: 4 bolts, side cover, removed") for one in lines)
    assert shown(view_of(*APART, "start the hydraulics", "go to the side cover"))[2] == (
        " SIDE COVER OFF"
    )


def test_an_aside_into_what_can_hurt_shows_its_cautions_too() -> None:
    view = view_of(*APART, "start the hydraulics", "snap ring off the forward piston")
    assert view.state.current == "forward_piston"
    assert any("Air pushes the piston out" in one for one in view.cautions)
    assert "Hand tools only here." in view.cautions


def test_general_cautions_stand_first_of_all() -> None:
    lines = "\n".join(shown(view_of()))
    assert all(" ".join(text.split())[:40] in lines for text in OUTLINE.caution)


def test_a_count_that_is_off_takes_the_big_letters_until_it_is_seen() -> None:
    view = view_of("start the end cover", "nine bolts off the end cover")
    assert "9 of 10 bolts" in "\n".join(shown(view))
    assert "! end cover: 10 bolts expected, 9 said" in "\n".join(shown(view))
    seen = "\n".join(shown(view.acknowledged()))
    assert "! end cover: 10 bolts expected" not in seen
    assert "9 of 10  bolts, end cover" in seen  # the ledger still says so


def test_what_goes_in_is_counted_on_the_screen_as_what_came_off_was() -> None:
    said = ("ten bolts off the end cover", "end cover off", "start covers on")
    assert "- of 10  bolts, end cover" in "\n".join(shown(view_of(*said)))
    short = "\n".join(shown(view_of(*said, "nine bolts in the end cover")))
    assert "!  9 of 10  bolts, end cover" in short
    assert "end cover: 9 of 10 bolts" in short  # in the place of the big letters


def test_words_that_were_passed_over_are_shown() -> None:
    view = view_of("start the end cover", "ten bolts off the end cover zonked gubbins")
    assert '? not understood: "zonked gubbins"' in "\n".join(shown(view))


def test_warnings_stay_while_time_goes_by_and_go_with_the_next_remark() -> None:
    view = view_of("start the end cover", "nine bolts off the end cover")
    later = view.at(view.elapsed + 3600, Ear())
    assert later.open == view.open != ()
    state, event = advance(view.state, PARSER.parse("make it ten"), PACK, 120.0)
    assert view.recorded(Recorded(event), state).open == ()


def test_a_notice_stays_over_remarks_until_it_is_acknowledged() -> None:
    view = view_of("start the end cover").told("the microphone is gone; the keyboard goes on")
    state, event = advance(view.state, PARSER.parse("two dowel pins off"), PACK, 60.0)
    later = view.recorded(Recorded(event), state)
    assert "microphone is gone" in "\n".join(shown(later))
    assert "microphone is gone" not in "\n".join(shown(later.acknowledged()))


def test_a_stopped_clock_and_deaf_ears_stand_out_without_colour() -> None:
    view = replace(view_of("start the end cover", "taking a break"), ear=Ear(level=-30, deaf=True))
    screen = draw(view, 80, 24)
    styles = {text.strip(): style for style, text in screen.above[0]}
    assert any("CLOCK STOPPED" in text and style == "class:alarm" for text, style in styles.items())
    assert any("NOT LISTENING" in text and style == "class:alarm" for text, style in styles.items())


def test_sound_that_is_too_loud_is_told_of_for_long_enough_to_be_read() -> None:
    view = view_of().at(10.0, Ear(level=-3.0))
    assert "TOO LOUD" in shown(view.at(11.0, Ear(level=-40.0)))[0]
    assert "TOO LOUD" not in shown(view.at(20.0, Ear(level=-40.0)))[0]
    assert "[#####-----]" in shown(view.at(20.0, Ear(level=-30.0)))[0]


def test_a_question_says_how_to_answer_it() -> None:
    view = view_of("nine bolts off the end cover")
    asked = replace(view, said=(replace(view.said[0], question="Nine bolts?"),))
    assert "Nine bolts? (F2 yes, F3 no, or say it)" in "\n".join(shown(asked))


def test_every_step_title_fits_in_big_letters_on_two_rows_of_a_small_terminal() -> None:
    for step in OUTLINE.steps():
        lines = big_lines(step.title, 80, 2)
        if lines is None:
            assert big_width(step.title) > 120  # too long for two rows: it is shown plainly
            continue
        assert len(lines) in (HEIGHT, 2 * HEIGHT)
        assert all(len(text_of(one)) <= 80 for one in lines)


def test_letters_are_made_of_their_dots() -> None:
    assert [text_of(one) for one in big_lines("L1", 80, 1) or ()] == [
        "█   ▄█  ",
        "█    █  ",
        "▀▀▀ ▀▀▀ ",
    ]


def test_typed_lines_become_entries_and_quit_leaves(tmp_path: Path) -> None:
    text = StringIO()
    clock = ScriptedClock(START).clock
    header = Header(outline="reversing_gearbox")
    with Desk.open(Ears(PACK, None), tmp_path / "job", header, clock) as desk:
        screen = LiveScreen(desk, OUTLINE)
        bench = LiveBench(desk, screen.show)
        bench.start()
        bench._show(Told("a notice"))
        with create_pipe_input() as pipe:
            app = live_app(screen, bench, output=output_of(text), input=pipe)
            lines = ["nine bolts off the end cover", ENTER, "two dowel pins off", ENTER]
            feed(pipe.send_text, [*lines, ENTER, "quit", ENTER], app)
            app.run()
        bench.stop()
    said = [entry.remark.heard for entry in read_session(tmp_path / "job").entries]
    assert said == ["nine bolts off the end cover", "two dowel pins off"]
    assert screen.view.notices == ()
    assert "nine bolts" in text.getvalue()


def test_a_screen_that_is_ending_stops_nobody_who_has_something_to_show(tmp_path: Path) -> None:
    clock = ScriptedClock(START).clock
    header = Header(outline="reversing_gearbox")
    with Desk.open(Ears(PACK, None), tmp_path / "job", header, clock) as desk:
        screen = LiveScreen(desk, OUTLINE)
        with create_pipe_input() as pipe:
            app = live_app(
                screen, LiveBench(desk, screen.show), output=output_of(StringIO()), input=pipe
            )
        # as between the end of its loop and the end of the application: there is no loop to call
        app._is_running, app.loop = True, Mock(is_closed=lambda: False)
        app.loop.call_soon_threadsafe.side_effect = RuntimeError("Event loop is closed")
        screen.show(Told("a notice"))
    screen.tick(None, "LISTENING")
    assert screen.view.notices == ("a notice",)


def test_a_job_without_an_outline_shows_the_steps_that_were_named() -> None:
    pack = load_pack(None)
    free = Outline(name="free", title="No outline", unit="", stage=())
    view = View(outline=free, state=State()).standing(State())
    for text in ("start the snout", "four bolts off"):
        state, event = advance(view.state, Parser(pack).parse(text), pack, 0.0)
        view = view.recorded(Recorded(event), state)
        assert "SNOUT" in "\n".join(shown(view))
    assert "4 bolts, removed" in "\n".join(shown(view))


@pytest.mark.hardware
@needs_tmux
def test_talk_in_a_real_terminal_and_plain(tmp_path: Path) -> None:
    command = (
        f"{sys.executable} -m benchvoice talk --keyboard --outline reversing_gearbox --session"
    )
    with Tmux(f"{command} {tmp_path / 'job'} --job J-7") as terminal:
        terminal.wait_for("Nothing said yet")
        terminal.keys("nine bolts off the end cover", "Enter")
        terminal.wait_for("9 of 10  bolts, end cover")
        terminal.wait_for("█▀█    ▄▀▄ █▀▀    ▄█  █▀█")  # 9 OF 10
        terminal.keys("quit", "Enter")
        terminal.wait_for("Kept in")
    with Tmux(f"{command} {tmp_path / 'job'} --plain") as terminal:
        terminal.wait_for("Say or type what you find")
        terminal.keys("make it ten", "Enter")
        terminal.wait_for("count corrected: 10")
        terminal.keys("quit", "Enter")
        terminal.wait_for("Kept in")
    said = [entry.remark.heard for entry in read_session(tmp_path / "job").entries]
    assert said == ["nine bolts off the end cover", "make it ten"]
