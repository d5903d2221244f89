"""Mutated tune files, each read in a child forked from a process that has music21 loaded:
`python -m tests.tunes.fuzzing KIND COUNT [SEED]` prints one JSON object (KIND may be `all`: one a line).

Each child has the limits of the reading process. It may read the file or refuse it in one sentence; anything else (a
traceback, a signal, a wall of 30 s) is a fault, kept with the file that caused it.
"""

# ruff: noqa: ARG001 - all mutations are called alike
import io
import json
import os
import random
import re
import resource
import signal
import sys
import time
import zipfile

from game.errors import TuneError
from game.music.written import written_notes, written_out
from game.paths import shipped
from game.tunes.library.compact import pack, unpack
from game.tunes.limits import READER_CPU_S, READER_MEMORY_BYTES, READER_WALL_S
from game.tunes.sandbox.reading_child import read_source
from game.tunes.sandbox.tune_source import source_of
from tests.tunes.hand_written import CONTAINER, note, score, zipped
from tests.tunes.made_midi import midi_bytes, steps

KINDS = ("musicxml", "mxl", "abc", "midi")
_READ, _REFUSED, _FAULT = 0, 1, 3
_ODD_BYTES = (b"\x00", b"\xff", b"\x80", b"<", b">", b"&", b"[", b"]", b"{", b'"', b"|", b":", b"\n", b"-", b"9" * 30)
_NUMBERS = (b"0", b"-1", b"1", b"7", b"64", b"127", b"128", b"255", b"9999", b"1000000000", b"1e9", b"0.3", b"")

ABC = (
    (
        b'X:1\nT:Ford\nC:Trad.\nM:6/8\nL:1/8\nQ:"Swing" 3/8=100\nK:Ddor\nP:AB\nP:A\n|:"Dm7"D3 {GA}G2 ^F|A>B c (3ABc d|'
        b'[1 [CEG]3 z3:|[2 A6-||A3 [K:Gm]B3|\nP:B\n[M:2/4](5ABcde f2|SC4|OD2 "^Fine"E2|!D.S.alcoda!F4&G4|Z2|\n'
        b"V:2\nC,8|\n"
    ),
    (
        b'X:1\nT:One\nM:C|\nK:Bb exp ^f =c\nV:1 name="High" clef=treble-8\nV:2\n'
        b"[V:1]B2A2|[V:2]D4|\n[V:1]::c/d//e'|1 f:|2 g|]\n"
        b"\nX:2\nT:Two\nK:HP\n~A.B|\\\nC`D y|w:la\n%%propagate-accidentals octave\n+trill+E|\n"
    ),
)
THIRD = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
REPEAT = '<barline location="right"><ending number="1" type="stop"/><repeat direction="backward" times="2"/></barline>'
HARMONY = "<harmony><root><root-step>B</root-step><root-alter>-1</root-alter></root><kind>dominant</kind></harmony>"


def seeds(kind: str) -> list[bytes]:
    """Small good files that hold a little of everything."""
    if kind == "mxl":
        one, other = seeds("musicxml")
        container = ("META-INF/container.xml", CONTAINER % b"tune.xml")
        return [zipped(container, ("tune.xml", one)), zipped(("picture.png", b"\x89PNG"), ("tune.xml", other))]
    if kind == "abc":
        return list(ABC)
    if kind == "midi":
        tune = steps(1, 0.5, 0.5, 1 / 3, 1 / 3, 1 / 3, 2, start=3)
        return [
            midi_bytes(tune, meters=[(0, 4, 4), (4, 3, 4)], keys=[(0, "Bb"), (4, "Dm")]),
            midi_bytes([(0, 1, 60), (0, 1, 64), (0.5, 3, 67)], tune, names=("chords", "melody"), program=26),
        ]
    chord = note("E4", 4, before="<chord/>")
    first = (
        HARMONY
        + note("C4")
        + chord
        + note("F#4", 2)
        + note("G4", 2, '<tie type="start"/>')
        + note("G4", 4, '<tie type="stop"/>')
    )
    second = note("D4", 0, before="<grace/>") + note("C4", 2, THIRD, value="quarter") * 3 + note("A4", 8) + REPEAT
    whole = (shipped("content", "tunes") / "01-au-clair-de-la-lune.musicxml").read_bytes()
    return [score(first, second, '<direction><sound dacapo="yes"/></direction>' + note("C5", 16)), whole]


def mutated(content: bytes, rng: random.Random, others: list[bytes], kind: str) -> bytes:
    """The file with one to six things done to it. Most of the time its frame stays whole (XML elements, lengths of MIDI
    tracks), so that what is broken lies deeper than the frame.
    """
    whole = rng.random() < _FRAME_STAYS
    if kind == "mxl" and rng.random() < _ARCHIVE_STAYS:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            text = archive.read("tune.xml")
        return zipped(("tune.xml", mutated(text, rng, seeds("musicxml"), "musicxml")))
    mutations = {"musicxml": _IN_XML, "midi": _IN_MIDI}.get(kind, _MUTATIONS) if whole else _MUTATIONS
    for _ in range(rng.randint(1, 6)):
        content = rng.choice(mutations)(content, rng, others)
    if kind == "midi" and whole:
        head, *tracks = content[14:].split(b"MTrk")
        tracks = [b"MTrk" + len(track[4:]).to_bytes(4, "big") + track[4:] for track in tracks]
        content = content[:14] + head + b"".join(tracks)
    return content[:200_000]


def _element(content, rng):
    """Start and end of some element, from bars down; the end of the file where there is none."""
    names = sorted(set(re.findall(rb"</([a-z-]+)>", content)) - {b"score-partwise", b"part", b"part-list"})
    for name in rng.sample(names, len(names)):
        found = list(re.finditer(rb"<" + name + rb"(?: [^<>]*)?(?<!/)>.*?</" + name + rb">", content, re.DOTALL))
        if found:
            return rng.choice(found).span()
    return len(content), len(content)


def _low_byte(content, rng, others):
    """A data byte of MIDI stays one."""
    spots = [at for at in range(22, len(content)) if content[at] < 128]
    at = rng.choice(spots or [0])
    return content[:at] + bytes([rng.randrange(128)]) + content[at + 1 :]


def _drop_element(content, rng, others):
    start, end = _element(content, rng)
    return content[:start] + content[end:]


def _double_element(content, rng, others):
    start, end = _element(content, rng)
    return content[:end] + content[start:end] * rng.choice((1, 1, 3, 60)) + content[end:]


def _move_element(content, rng, others):
    other = rng.choice(others)
    start, end = _element(other, rng)
    at, _ = _element(content, rng)
    return content[:at] + other[start:end] + content[at:]


def _spot(content: bytes, rng: random.Random) -> tuple[int, int]:
    start = rng.randrange(len(content) + 1)
    return start, min(len(content), start + rng.choice((1, 2, 4, 16, 100)))


def _flip(content, rng, others):
    start, _ = _spot(content, rng)
    return content[:start] + bytes([rng.randrange(256)]) + content[start + 1 :]


def _cut(content, rng, others):
    start, end = _spot(content, rng)
    return content[:start] + content[end:]


def _double(content, rng, others):
    start, end = _spot(content, rng)
    return content[:end] + content[start:end] * rng.choice((1, 1, 2, 200)) + content[end:]


def _insert(content, rng, others):
    start, _ = _spot(content, rng)
    return content[:start] + rng.choice(_ODD_BYTES) + content[start:]


def _renumber(content, rng, others):
    found = list(re.finditer(rb"\d+", content))
    if not found:
        return content
    number = rng.choice(found)
    return content[: number.start()] + rng.choice(_NUMBERS) + content[number.end() :]


def _truncate(content, rng, others):
    return content[: rng.randrange(len(content) + 1)]


def _splice(content, rng, others):
    other = rng.choice(others)
    start, end = _spot(other, rng)
    at, _ = _spot(content, rng)
    return content[:at] + other[start:end] + content[at:]


def _swap(content, rng, others):
    one, two = sorted((_spot(content, rng), _spot(content, rng)))
    if one[1] > two[0]:
        return content
    return (
        content[: one[0]]
        + content[two[0] : two[1]]
        + content[one[1] : two[0]]
        + content[one[0] : one[1]]
        + content[two[1] :]
    )


_FRAME_STAYS = 0.8
_ARCHIVE_STAYS = 0.8
_IN_XML = (_renumber, _renumber, _renumber, _drop_element, _double_element, _move_element)
_IN_MIDI = (_low_byte, _low_byte, _low_byte, _double, _cut)
_MUTATIONS = (_flip, _flip, _cut, _double, _insert, _renumber, _renumber, _truncate, _splice, _swap)


def _read(content: bytes) -> None:
    tune = read_source(source_of(content, "tune"), 1, None)
    assert unpack(pack(tune)) == tune
    assert written_notes(written_out(tune).bars, tune.reading)


def _child(content: bytes) -> int:
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_CPU, (READER_CPU_S, READER_CPU_S))
    resource.setrlimit(resource.RLIMIT_AS, (READER_MEMORY_BYTES, READER_MEMORY_BYTES))
    signal.alarm(int(READER_WALL_S))
    try:
        _read(content)
    except TuneError as refused:
        said = str(refused)
        return _REFUSED if said and "\n" not in said and len(said) < 400 else _FAULT
    except BaseException as fault:  # noqa: BLE001 - what a child dies of is the finding
        print(f"{type(fault).__name__}: {fault}"[:300], file=sys.stderr)
        return _FAULT
    return _READ


def fuzz(kind: str, count: int, seed: int) -> dict[str, object]:
    """Read `count` mutated files of a kind; faults are files, in hexadecimal, with how they ended."""
    import music21.musicxml.xmlToM21  # noqa: F401 - loaded once, before the forks

    rng, good = random.Random(f"{kind} {seed}"), seeds(kind)
    ends = {_READ: 0, _REFUSED: 0}
    faults: list[dict[str, object]] = []
    worst_s, worst_kb = 0.0, 0
    for number in range(count):
        content = mutated(rng.choice(good), rng, good, kind)
        begun = time.monotonic()
        pid = os.fork()
        if pid == 0:
            os._exit(_child(content))
        _, status, used = os.wait4(pid, 0)
        worst_s, worst_kb = max(worst_s, time.monotonic() - begun), max(worst_kb, used.ru_maxrss)
        code = os.waitstatus_to_exitcode(status)
        if code in ends:
            ends[code] += 1
        else:
            faults.append({"number": number, "ended": code, "file": content.hex()})
    return {
        "kind": kind, "read": ends[_READ], "refused": ends[_REFUSED], "faults": faults,
        "worst_s": round(worst_s, 3), "worst_mb": worst_kb // 1024,
    }  # fmt: skip


if __name__ == "__main__":
    for one in KINDS if sys.argv[1] == "all" else (sys.argv[1],):
        print(json.dumps(fuzz(one, int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 1)), flush=True)
