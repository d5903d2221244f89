"""What `abc2midi` (Debian package abcmidi, an independent program) plays of an ABC tune, and what we play of it.

A played note is its onset in ticks of a 480th of a quarter note, its length in the same, and its MIDI number; of
notes that start together the highest. Taken off the text before either program sees it: `R:` (abc2midi plays a
hornpipe's even notes dotted) and `%%MIDI` (its own directions for playback). For abc2midi alone also the signs of
ornaments and touch (`.` `~` `H` `T` and the like), which it plays out in notes of its own.
"""

import random
import re
import subprocess
from dataclasses import replace
from pathlib import Path

import mido

from game.music.score import Reading
from game.music.written import written_notes, written_out
from tests.tunes.read_here import read_here

TICKS = 480
_SPREAD = 20
SEED = 20261125
SHARES = {"ryansMammoth": 0.4, "oneills1850": 0.25, "essenFolksong": 0.2, "airdsAirs": 0.125, "miscFolk": 0.025}
# The tunes of the sample of 200 that differ, and why.
EXPLAINED = {
    "airdsAirs/book1/79": "P:ABA over sections that close without opening: abc2midi does not repeat the second of B",
    "essenFolksong/han2/374": "K: H, a German key: abc2midi plays nothing, we read it without a signature",
    "oneills1850/0981-1000/20": "a slur from grace notes written like a tie: abc2midi ties the notes around them",
}
COLLECTIONS = ("ryansMammoth", "oneills1850", "essenFolksong", "airdsAirs", "miscFolk", "nottingham-dataset")


def corpus_tunes() -> list[tuple[str, bytes]]:
    """Every ABC tune that music21 installs (its corpus is part of the library), each alone with a name."""
    from music21 import corpus

    tunes = []
    for path in sorted(corpus.getCorePaths()):
        if path.suffix == ".abc" and path.parent.name in COLLECTIONS:
            tunes += [(f"{path.parent.name}/{path.stem}/{n}", text) for n, text in enumerate(tunes_of(path), start=1)]
    return tunes


def tunes_of(path: Path) -> list[bytes]:
    """The tunes of a file, cut at the X: fields and at the empty line after the music."""
    content = path.read_bytes().replace(b"\r\n", b"\n")
    tunes = []
    for piece in re.split(rb"(?m)^(?=X:)", content)[1:]:
        header, key, music = (*re.split(rb"(?m)^(K:.*\n?)", piece, maxsplit=1), b"", b"")[:3]
        if key:
            music = re.split(rb"\n[ \t]*\n", music, maxsplit=1)[0]
            kept = [line for line in header.split(b"\n") if line.strip() and not line.startswith((b"R:", b"%%MIDI"))]
            lines = [line for line in music.split(b"\n") if not line.startswith((b"R:", b"%%MIDI"))]
            tunes.append(b"\n".join([*kept, key.strip(), *lines]) + b"\n")
    return tunes


def without_ornaments(text: bytes) -> bytes:
    """The text without signs of ornaments and touch, quotes and fields left alone."""
    header, key, music = re.split(rb"(?m)^(K:.*\n?)", text, maxsplit=1)
    lines = []
    for line in music.split(b"\n"):
        if re.match(rb"[A-Za-z]:(?![|:])", line):
            lines.append(line)
        else:
            pieces = re.split(rb'("[^"]*"|!\w[^!]*!|\[[A-Z]:[^\]]*\])', line)
            lines.append(b"".join(p if i % 2 else re.sub(rb"[.~HJLMPRTuv]", b"", p) for i, p in enumerate(pieces)))
    return header + key + b"\n".join(lines)


def abc2midi_file(text: bytes, folder: Path) -> Path:
    """The MIDI file that abc2midi makes of a tune, without graces, accompaniment and ornaments."""
    source, made = folder / "tune.abc", folder / "tune.mid"
    source.write_bytes(without_ornaments(text))
    made.unlink(missing_ok=True)
    command = ["abc2midi", str(source), "-NGRA", "-NGUI", "-o", str(made)]
    subprocess.run(command, capture_output=True, check=False, timeout=120)
    return made


def theirs(text: bytes, folder: Path) -> list[tuple[int, int, int]]:
    """The notes abc2midi plays in its first voice, without graces and accompaniment."""
    made = abc2midi_file(text, folder)
    if not made.exists():
        return []
    file = mido.MidiFile(made)
    for track in file.tracks:
        notes = _notes(track, TICKS / file.ticks_per_beat)
        if notes:
            return notes
    return []


def _notes(track: mido.MidiTrack, scale: float) -> list[tuple[int, int, int]]:
    now, sounding, notes = 0, {}, []
    for message in track:
        now += message.time
        if message.type == "note_on" and message.velocity:
            sounding.setdefault(message.note, []).append(now)
        elif message.type in {"note_off", "note_on"} and sounding.get(message.note):
            start = sounding[message.note].pop(0)
            notes.append((round(start * scale), round((now - start) * scale), message.note))
    line: list[tuple[int, int, int]] = []
    for onset, length, note in sorted(notes):
        # It spreads a chord over some ticks.
        if line and onset - line[-1][0] <= _SPREAD:
            line[-1] = (line[-1][0], line[-1][1], max(line[-1][2], note))
        else:
            line.append((onset, length, note))
    return line


def ours(text: bytes, *, jumps: bool = True) -> list[tuple[int, int, int]]:
    """The notes we play; `jumps` False leaves D.C. and D.S. out, which abc2midi does not know in words."""
    score = read_here(text, name="tune.abc", read=Reading.CONCERT)
    if not jumps:
        score = replace(score, bars=tuple(replace(bar, marks=replace(bar.marks, jump=None)) for bar in score.bars))
    notes = written_notes(written_out(score).bars, Reading.CONCERT)
    return [(round(n.onset * TICKS), round(n.length * TICKS), n.sounding) for n in notes]


def same(one: list[tuple[int, int, int]], other: list[tuple[int, int, int]]) -> bool:
    """Whether pitches are equal and times too, to two ticks (lengths such as a seventh are rounded twice)."""
    return len(one) == len(other) and all(
        a[2] == b[2] and abs(a[0] - b[0]) <= 2 and abs(a[1] - b[1]) <= 2 for a, b in zip(one, other, strict=True)
    )


def sample(tunes: list[tuple[str, bytes]], count: int) -> list[tuple[str, bytes]]:
    """A fixed sample, spread over the collections so that the largest (songs without repeats) does not fill it."""
    chosen = []
    for collection, share in SHARES.items():
        ours_here = [tune for tune in tunes if tune[0].startswith(collection)]
        random.Random(SEED).shuffle(ours_here)
        chosen += ours_here[: max(1, round(count * share))]
    return sorted(chosen[:count])


def outcome(text: bytes, folder: Path) -> str:
    """How our notes and theirs compare."""
    expected = theirs(text, folder)
    if same(ours(text), expected):
        return "equal"
    if same(ours(text, jumps=False), expected):
        return "equal but for a D.C. or D.S. in words, which abc2midi passes over"
    return "different"
