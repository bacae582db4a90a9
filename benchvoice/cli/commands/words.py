"""`benchvoice words`: the user's own words, and how they sound."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import get_args

from benchvoice.errors import AudioError, BadInput
from benchvoice.grammar import Pack, load_pack
from benchvoice.grammar.vocabulary import PartKind
from benchvoice.saying import find_voice
from benchvoice.saying.aloud import say_sounds
from benchvoice.words import (
    FILE_NAME,
    KINDS,
    Guesser,
    Sounds,
    WordKind,
    find_guesser,
    listed,
    own_files,
    sounds_like,
    sounds_of,
    user_home,
)
from benchvoice.words.editing import add_word, remove_word

_FROM = {
    "given": "as you gave it",
    "dictionary": "known to the engine",
    "word forms": "made from a word that is known",
    "spelling": "guessed from the spelling",
}


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    does = parser.add_subparsers(dest="does", required=True, metavar="add|list|remove")
    adding = does.add_parser("add", help="add a word, with a guess at how it sounds")
    adding.add_argument("word", metavar="WORD", help='what goes on the record: "grub nut"')
    _kinds(adding)
    adding.add_argument("--say", action="append", default=[], help="another way to say it")
    adding.add_argument("--kind", choices=get_args(PartKind), help="what kind of part it is")
    adding.add_argument(
        "--sounds",
        action="append",
        default=[],
        metavar='"B OW L T"',
        help="how the word sounds, in the sounds of the CMU dictionary; may be given again",
    )
    adding.add_argument("--quiet", action="store_true", help="do not speak it")
    adding.set_defaults(run=_add)
    listing = does.add_parser("list", help="list your words")
    listing.set_defaults(run=_list)
    removing = does.add_parser("remove", help="take a word out again")
    removing.add_argument("word", metavar="WORD")
    removing.set_defaults(run=_remove)


def _kinds(parser: ArgumentParser) -> None:
    group = parser.add_mutually_exclusive_group()
    for kind in KINDS:
        group.add_argument(
            f"--{kind}",
            dest="sort",
            action="store_const",
            const=kind,
            help=f"it is a {kind}{' (what it is unless you say)' if kind == 'part' else ''}",
        )


def _add(args: Namespace) -> int:
    home = user_home()
    name = " ".join(args.word.lower().split())
    pack = load_pack(None, own_files(home))
    kind = _kind_of(name, args, pack)
    found = _sounds(name, args, pack)
    own = {one.word: one.ways for one in found if one.source in ("given", "spelling")}
    path = home / FILE_NAME
    add_word(path, name, kind, say=args.say, sounds=own, part_kind=args.kind)
    print(f"{name}: {kind or 'known already'}, kept in {path}")
    for one in found:
        print(f"  {one.word} sounds {' or '.join(one.ways)} ({_FROM[one.source]})")
        near = sounds_like(one, pack.said_words, pack.pronounce) if kind else ""
        if near:
            print(f'  it sounds much like "{near}", and may be heard for it')
    guesses = [one for one in found if one.is_guess]
    for one in guesses:  # sounds are of one word, also where a phrase was added
        print(f'  wrong? benchvoice words add "{one.word}" --sounds "..." puts it right')
    if not args.quiet and sys.stdout.isatty():
        _say(found)
    return 0


def _kind_of(name: str, args: Namespace, pack: Pack) -> WordKind | None:
    """What is added: a kind of word, or for one that is known only its sounds (None)."""
    known = any(name in term.ways for _, term in pack.terms())
    kind: WordKind | None = args.sort
    if args.kind and kind not in (None, "part"):
        raise BadInput(f"--kind is of parts, and this is a {kind}", mend="leave out one of them")
    if kind is None and known and not args.say:
        if not args.sounds and not args.kind:
            raise BadInput(
                f'"{name}" is known already',
                mend="give --sounds to change how it sounds, or what it is (--part, --place ...)",
            )
        return "part" if args.kind else None
    return kind or "part"


def _sounds(name: str, args: Namespace, pack: Pack) -> list[Sounds]:
    """Give the sounds of each word of a name and of its ways of being said."""
    words = name.split()
    if args.sounds and len(words) != 1:
        raise BadInput(
            "--sounds is for one word", mend=f"give each word by itself: words add {words[-1]}"
        )
    guesser = find_guesser()
    spoken = dict.fromkeys([*words, *(word for say in args.say for word in say.split())])
    found = [_sounds_of(word, args, pack, guesser, own=word == name) for word in spoken]
    return [one for one in found if one.source != "dictionary" or len(spoken) == 1]


def _sounds_of(
    word: str, args: Namespace, pack: Pack, guesser: Guesser | None, *, own: bool
) -> Sounds:
    found = sounds_of(word, pack.pronounce, tuple(args.sounds) if own else (), guesser)
    if found is None:
        raise BadInput(
            f'nobody knows how "{word}" sounds',
            mend="give --sounds, or install espeak-ng (or pip install 'benchvoice[words]')",
        )
    return found


def _say(found: list[Sounds]) -> None:
    """Let the user hear how the engine expects a word; a voice that is not there is no fault."""
    if find_voice() is None:
        return
    try:
        for one in found:
            say_sounds(one.ways[0])
    except AudioError as error:
        print(f"  it cannot be spoken here: {error.what}")


def _list(args: Namespace) -> int:
    own_files(user_home())  # a mistake is named with its line
    words = listed(user_home() / FILE_NAME)
    if not words:
        print("no words of your own yet: benchvoice words add WORD")
    for one in words:
        said = f", said {', '.join(one.say)}" if one.say else ""
        print(f"{one.kind or 'sounds only':<11}  {one.name}{said}")
        for word, ways in one.sounds.items():
            print(f"             {word} sounds {' or '.join(ways)}")
    return 0


def _remove(args: Namespace) -> int:
    path = user_home() / FILE_NAME
    name = " ".join(args.word.lower().split())
    if not remove_word(path, name):
        raise BadInput(f'"{name}" is not among your words', mend="see them: benchvoice words list")
    print(f"{name}: taken out of {path}")
    return 0
