"""Drafts on the disk: JSON, a file each, whole or not at all. What is damaged is left alone and is no draft.

A draft is kept as it changes, so that a crash or leaving loses nothing; once the tune stands on the shelf it stays, to
be put right later.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from uuid import uuid4

import msgspec

from game.errors import TuneError, reason_of
from game.music.chords import ChordSymbol
from game.music.keys import MAX_FIFTHS, Key
from game.music.meter import Meter
from game.music.score import Reading
from game.text.clean_text import cleaned
from game.tunes.abc.chord_text import chord_of
from game.tunes.entering.draft import MOST_PITCHES, BarSigns, Draft, DraftOnset, DraftPitch
from game.tunes.library.library_files import write_whole

FOLDER = "written"
ENDING = ".draft.json"
_MOST_BYTES = 1_000_000
_FURTHEST = 20_000
_TIME = re.compile(r"-?\d{1,6}(/[1-9]\d{0,4})?", re.ASCII)


class _Kept(msgspec.Struct, omit_defaults=True):
    """A draft as JSON: times as text ("3/2"), each onset with the place of its rest or "", a chord with its text."""

    title: str = ""
    composer: str = ""
    fifths: int = 0
    minor: bool = False
    beats: int = 4
    unit: int = 4
    pickup: str = "0"
    swung: bool | None = None
    tempo_bpm: int = 80
    reading: Reading = Reading.GUITAR
    octaves: int = 0
    pitches: tuple[tuple[int, bool], ...] = ()
    onsets: tuple[tuple[str, str], ...] = ()
    settled: str = "0"
    chords: tuple[tuple[str, str], ...] = ()
    signs: tuple[tuple[int, bool, bool, int], ...] = ()
    kept_as: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptDraft:
    """A draft and its file."""

    path: Path
    draft: Draft


def new_draft_path(folder: Path) -> Path:
    """Where a new draft of a player is kept; `folder` is the player's."""
    return folder / FOLDER / f"{uuid4().hex}{ENDING}"


def write_draft(path: Path, draft: Draft) -> None:
    """Keep a draft. Raises `TuneError` when the disk is full; what was kept before is then still there."""
    try:
        write_whole(path, msgspec.json.encode(_packed(draft)))
    except TuneError as fault:
        raise TuneError("writing.draft_not_kept", reason=dict(fault.message.values)["reason"]) from fault


def read_draft(path: Path) -> Draft | None:
    """A draft that was kept; None for one that is damaged or gone."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            return None
        return _draft(msgspec.json.decode(path.read_bytes(), type=_Kept))
    except (OSError, ValueError, msgspec.MsgspecError):
        return None


def throw_away(path: Path) -> None:
    """Remove a draft; one that is gone already is not missed. Raises `TuneError` where the disk will not."""
    try:
        path.unlink(missing_ok=True)
    except OSError as fault:
        raise TuneError("writing.draft_stays", reason=reason_of(fault)) from fault


def kept_drafts(folder: Path) -> tuple[KeptDraft, ...]:
    """All drafts of a player, the one that was worked at last first."""
    return tuple(KeptDraft(path=path, draft=draft) for path, draft in _readable(folder / FOLDER))


def _readable(folder: Path) -> Iterator[tuple[Path, Draft]]:
    dated = [(_changed(path), path) for path in folder.glob(f"*{ENDING}")]
    for _, path in sorted(dated, reverse=True):
        draft = read_draft(path)
        if draft is not None:
            yield path, draft


def _changed(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


def _packed(draft: Draft) -> _Kept:
    return _Kept(
        title=draft.title,
        composer=draft.composer,
        fifths=draft.key.fifths,
        minor=draft.key.minor,
        beats=draft.meter.beats,
        unit=draft.meter.unit,
        pickup=str(draft.pickup),
        swung=draft.swung,
        tempo_bpm=draft.tempo_bpm,
        reading=draft.reading,
        octaves=draft.octaves,
        pitches=tuple((pitch.sounding, pitch.respelled) for pitch in draft.pitches),
        onsets=tuple((str(onset.at), _text(onset.rest_at)) for onset in draft.onsets),
        settled=str(draft.settled),
        chords=tuple((str(chord.onset), chord.text) for chord in draft.chords),
        signs=tuple((bar, one.repeat_start, one.repeat_end, one.ending) for bar, one in draft.signs),
        kept_as=draft.kept_as,
    )


def _text(at: Fraction | None) -> str:
    return "" if at is None else str(at)


def _draft(kept: _Kept) -> Draft:
    """Raises `ValueError` for what no draft of ours can be."""
    draft = Draft(
        title=cleaned(kept.title),
        composer=cleaned(kept.composer),
        key=Key(max(-MAX_FIFTHS, min(MAX_FIFTHS, kept.fifths)), minor=kept.minor),
        meter=Meter(kept.beats, kept.unit),
        pickup=_time(kept.pickup),
        swung=kept.swung,
        tempo_bpm=max(20, min(400, kept.tempo_bpm)),
        reading=kept.reading,
        octaves=max(-3, min(3, kept.octaves)),
        pitches=tuple(_pitch(*pitch) for pitch in kept.pitches[:MOST_PITCHES]),
        onsets=tuple(DraftOnset(at=_time(at), rest_at=_time(rest) if rest else None) for at, rest in kept.onsets),
        settled=_time(kept.settled),
        chords=tuple(_chord(text, _time(at)) for at, text in kept.chords),
        signs=tuple(
            (bar, BarSigns(repeat_start=start, repeat_end=end, ending=max(0, min(2, ending))))
            for bar, start, end, ending in kept.signs
        ),
        kept_as=cleaned(kept.kept_as),
    )
    return _checked(draft)


def _checked(draft: Draft) -> Draft:
    """The draft, when its times rise and end before the settled bar line."""
    now = draft.start
    for onset in draft.onsets:
        if onset.at < now or (onset.rest_at is not None and onset.rest_at <= onset.at):
            raise ValueError("the times of a draft do not rise")
        now = onset.at if onset.rest_at is None else onset.rest_at
    if any(one.at >= other.at for one, other in pairwise(draft.onsets)) or now > draft.settled:
        raise ValueError("two notes of a draft begin at once, or one behind its last bar line")
    if not 0 <= draft.pickup < draft.meter.bar_length:
        raise ValueError("a pickup is shorter than its bar")
    return draft


def _pitch(sounding: int, respelled: bool) -> DraftPitch:
    if not 0 <= sounding <= 127:
        raise ValueError(f"no pitch: {sounding}")
    return DraftPitch(sounding=sounding, respelled=respelled)


def _chord(text: str, at: Fraction) -> ChordSymbol:
    chord = chord_of(text, at)
    if chord is None:
        raise ValueError(f"no chord symbol: {text[:40]!r}")
    return chord


def _time(text: str) -> Fraction:
    """Raises `ValueError` for what is no time of a tune."""
    if not _TIME.fullmatch(text) or abs(Fraction(text)) > _FURTHEST:
        raise ValueError(f"no time: {text[:40]!r}")
    return Fraction(text)
