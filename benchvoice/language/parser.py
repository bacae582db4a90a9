"""Remarks understood: text in, `Remark` out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from benchvoice.grammar.pack import FUNCTION_WORDS, Pack
from benchvoice.language.assemble import assemble
from benchvoice.language.chunks import Chunk, chunk
from benchvoice.language.commands import Command, Commands
from benchvoice.language.doubt import settle
from benchvoice.language.either import either
from benchvoice.language.found_on import found_on
from benchvoice.language.going_in import going_in
from benchvoice.language.hedged import HEDGED
from benchvoice.language.lexicon import Lexeme, Lexicon, Sense
from benchvoice.language.looked_for import looked_for
from benchvoice.language.not_off import NOT_OFF
from benchvoice.language.not_so import NOT_SO
from benchvoice.language.numbers import read_number
from benchvoice.language.orders import orders
from benchvoice.language.other_sense import other_sense
from benchvoice.language.other_work import other_work
from benchvoice.language.passes import through
from benchvoice.language.phrasal import join, split_verbs, without_back
from benchvoice.language.repair import repair
from benchvoice.language.same_too import same_too
from benchvoice.language.tokens import tokenise
from benchvoice.language.unnamed import unnamed
from benchvoice.remark import Finding, Remark

_FIRST = (settle, going_in, either)
_PASSES = (orders, *HEDGED, *NOT_SO, other_sense, found_on, same_too, unnamed)
"""What changes what was said, in this order; what is looked for goes between, `NOT_OFF` last."""
_MOST_UNKNOWN = 0.3
"""Above this share of unknown words a remark is not trusted; tuned on tests/remarks."""
_ASKING = frozenset("what where which who when why how".split())
_ASKED = frozenset("is are was were does do did has have goes go went comes come would".split())
"""Words that a question begins with."""
_ASKS = frozenset("is are was were do does did".split())
_ARE = frozenset("is are was were".split())
_ASKED_OF = frozenset("the that this it there they these those any i we you".split())
"""Words that a question without a word of asking goes on with: "is the bearing worn"."""
_WHERE = frozenset({"where", "than"})
_ASIDE = rf" (?=where (?!(?:{'|'.join(sorted(_ASKED))}) )|than (?:the|those|that|a) )"
_CLAUSES = re.compile(f" , |{_ASIDE}")
_TAKEN = frozenset({"removed", "installed"})
_TELLING = frozenset({"count", "doubt", "bound", "disposition"})
"""What is left over even if its words are small."""
_LONGEST = 300
"""In words; two minutes of talk without a pause are no remark, and the time stays linear."""


class Parser:
    """Understands remarks with the words of a pack; immutable after construction.

    `parse` is total: any text gives a `Remark`, marked unclear when too
    little of it was understood to be trusted.
    """

    def __init__(self, pack: Pack) -> None:
        self._lexicon = Lexicon(pack)
        self._commands = Commands(pack)
        self._shown = {tool.name: tool.shows for tool in pack.tool if tool.shows}
        self._verbs = split_verbs(
            (say, kind, Sense(term.name, term))
            for kind in ("action", "disposition")
            for term in getattr(pack, kind)
            for say in (term.name, *term.say)
        )

    def parse(self, text: str) -> Remark:
        """Understand one remark."""
        tokens = tokenise(text, self._lexicon.typed)
        if not tokens:
            return Remark(heard=text)
        if len(tokens) > _LONGEST:
            return Remark(heard=text, unparsed=(text,))
        lexemes = self._lexicon.lexemes(tokens)
        command = self._command(tokens, lexemes)
        if command is not None:
            return Remark(
                heard=text,
                kind="command",
                command=command.name,
                number=command.number,
                words=command.words,
                findings=self.parse(command.words or "").findings if command.names else (),
            )
        if _asks(tokens) or other_work(tokens):
            return Remark(heard=text, unparsed=(text,))
        remark = self._remark(text, tokens, lexemes)
        if (not _WHERE.isdisjoint(tokens) and re.search(_ASIDE, " ".join(tokens))) or (
            remark.kind == "unclear" and "," in tokens
        ):
            remark = self._without_strange(text, tokens) or remark
        return self._step_or(remark, _words(lexemes, tokens))

    def _without_strange(self, text: str, tokens: list[str]) -> Remark | None:
        """Leave out the clauses that have words nobody knows: what was typed beside them counts.

        What follows a "where" tells of a place in words of its own, what follows a "than" of what
        else it is held against; neither finds anything there.
        """
        clauses = [words.split(" ") for words in _CLAUSES.split(" ".join(tokens))]
        strange = [
            words[0] in _WHERE or any(not one.senses for one in self._lexicon.lexemes(words))
            for words in clauses
        ]
        known = [words for words, odd in zip(clauses, strange, strict=True) if not odd]
        if len(known) in (0, len(clauses)):
            return None
        rest = [*known[0], *(word for words in known[1:] for word in (",", *words))]
        remark = self._remark(text, rest, self._lexicon.lexemes(rest))
        if remark.kind != "remark" or all(one.part is None for one in remark.findings):
            return None
        left = (" ".join(words) for words, odd in zip(clauses, strange, strict=True) if odd)
        return replace(remark, unparsed=(*remark.unparsed, *left))

    def _step_or(self, remark: Remark, words: list[str]) -> Remark:
        """A step's name and nothing else announces it; what it may have found is kept with it."""
        step = self._commands.step_named(words)
        if step is None or any(
            finding.action in _TAKEN and finding.part in step.parts for finding in remark.findings
        ):
            return remark
        told = not (remark.unparsed or any(map(_to_do, remark.findings)))
        return Remark(
            heard=remark.heard,
            kind="command",
            command="start",
            words=step.name,
            findings=remark.findings if told else (),
        )

    def _remark(self, text: str, tokens: list[str], lexemes: list[Lexeme]) -> Remark:
        lexemes = join(without_back(repair(lexemes, tokens), tokens), tokens, self._verbs)
        said = through(chunk(lexemes, tokens), tokens, _FIRST)
        chunks = through(looked_for(said, tokens, self._shown), tokens, _PASSES)
        done = assemble(through(chunks, tokens, NOT_OFF))
        unparsed = _unparsed(done.unused, tokens)
        findings = done.findings
        tells = findings or (done.ambiguous and done.measured)
        tells = tells and not _says_nothing(chunks, findings)
        if not tells or not _trusted(chunks, done.unused, findings):
            return Remark(
                heard=text, kind="unclear", unparsed=unparsed or (text,), ambiguous=done.ambiguous
            )
        return Remark(
            heard=text,
            kind="remark",
            findings=findings,
            unparsed=unparsed,
            ambiguous=done.ambiguous,
        )

    def _command(self, tokens: list[str], lexemes: list[Lexeme]) -> Command | None:
        """Read a command as said, or without fillers, or without a "no" or "wait" before it."""
        found = self._commands.read(tokens)
        if found is not None or not lexemes:
            return found
        if self._commands.may_start(tokens[lexemes[0].start]):
            found = self._commands.read(_words(lexemes, tokens))
        if found is None and "correction" in lexemes[0].senses:
            said = _words(lexemes[1:], tokens)
            found = self._commands.read(said) or _recount(said)
        return found


def _says_nothing(chunks: Sequence[Chunk], findings: Sequence[Finding]) -> bool:
    """Whether a part is only named after an "it" or "is" that nobody says so: "it shaft"."""
    if chunks[0].kind not in ("it", "be"):
        return False
    return all(one in (Finding(part=one.part), Finding(part=one.part, count=1)) for one in findings)


def _to_do(finding: Finding) -> bool:
    """ "Parts washed" as the name of a step: said of what is still to be done."""
    return finding.action is not None and finding.action not in _TAKEN


def _recount(said: list[str]) -> Command | None:
    """ "No, eight", "no, eight of them": the count put right; "no one" is nobody."""
    if said == ["one"]:
        return None
    words = [word for word in said if word != ","]
    if words[-2:-1] == ["of"] and words[-1] in ("them", "those"):
        del words[-2:]
    number = read_number(words, 0) if words else None
    if number is None or number.end != len(words) or number.kind != "cardinal":
        return None
    return Command("recount", int(number.value))


def _asks(tokens: list[str]) -> bool:
    """Whether it is a question: one that is no command is nothing found or done."""
    if len(tokens) < 2:
        return False
    if tokens[0] in _ASKING and tokens[1] in _ASKED:
        return True
    if tokens[0] in _ARE and tokens[1] == "not":
        return True  # "is not metal on it"
    return tokens[0] in _ASKS and tokens[1] in _ASKED_OF


def _words(lexemes: list[Lexeme], tokens: list[str]) -> list[str]:
    return [token for lexeme in lexemes for token in tokens[lexeme.start : lexeme.end]]


def _trusted(chunks: Sequence[Chunk], unused: list[Chunk], findings: tuple[Finding, ...]) -> bool:
    unknown = sum(left.kind == "unknown" for left in unused)
    if not unknown:
        return True
    known = sum(
        said.end - said.start
        for said in chunks
        if said.kind not in ("unknown", "article", "conj", "be", "word", "it", "stray", "broken")
    )
    if all(finding.part is None and not finding.measure for finding in findings):
        return False
    return unknown <= _MOST_UNKNOWN * (unknown + known)


def _unparsed(unused: list[Chunk], tokens: list[str]) -> tuple[str, ...]:
    """Give the words left over, neighbours together; small words alone are left out."""
    if not unused:
        return ()
    pieces: list[tuple[int, int, bool]] = []
    for start, end, number in sorted((c.start, c.end, c.kind in _TELLING) for c in unused):
        if pieces and start <= pieces[-1][1]:
            last = pieces.pop()
            pieces.append((last[0], max(end, last[1]), number or last[2]))
        else:
            pieces.append((start, end, number))
    words = ((" ".join(tokens[start:end]), number) for start, end, number in pieces)
    return tuple(word for word, number in words if number or word not in FUNCTION_WORDS)
