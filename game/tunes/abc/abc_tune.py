"""ABC to our Score (ABC standard 2.1). Pure, in this process: the text is read by our own reader, with caps on its
size, and never reaches another library, a path or an address.

Pitches are the page, as on a lead sheet. Of several tunes one is chosen by number; of several voices the first is
read unless another is asked for; parts (`P:ABA` in the header) are written out in their order.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from game.errors import TuneError
from game.message import Message, message
from game.music.clef import Clef
from game.music.score import Bar, Reading, Score
from game.tunes.abc.abc_bars import OpenBar, bars_from
from game.tunes.abc.abc_reader import VoiceReader
from game.tunes.abc.abc_text import AbcTune, AbcVoice, abc_tunes, chosen_tune, readable, title_of, voices_of
from game.tunes.chord_places import chords_kept_inside
from game.tunes.feel_words import feel_in_fields
from game.tunes.left_out import LeftOut, bars_listed, with_printed_numbers
from game.tunes.limits import MAX_BARS
from game.tunes.musicxml.order_signs import resolved_codas, unpaired_warnings
from game.tunes.musicxml.reading_octave import (
    SettledOctave,
    fixed_octave,
    octave_shifted_bar,
    open_octave,
    reading_in,
)
from game.tunes.part_names import default_name, parts_listed
from game.tunes.playable import check_playable
from game.tunes.sandbox.tune_source import TuneSource
from game.tunes.swing_words import swing_in_words

_OCTAVE_DOWN = re.compile(r"\b(?:treble|bass)-8|-8va\b")
_CLEF = re.compile(r"\b(bass|alto|tenor|perc)")
_OCTAVES = re.compile(r"\boctave\s*=\s*(-?[0-4])\b")
_TRANSPOSE = re.compile(r"\btranspose\s*=?\s*(-?\d{1,3})\b")
_PARTS = re.compile(r"([A-Z])(\d{0,2})|\(([A-Z\d]{1,40})\)(\d{0,2})")


def read_abc(source: TuneSource, part: int | None, read: Reading | None) -> Score:
    """Read one tune of an ABC text.

    `part` counts the tunes of the file; in a file of one tune it counts its voices. Raises `SeveralTunesError` when
    there are several tunes and none was chosen, `TuneError` for everything else.
    """
    tunes = abc_tunes(source)
    tune = chosen_tune(tunes, part, source.name) if len(tunes) > 1 else tunes[0]
    voices = voices_of(tune)
    voice, warnings = _chosen_voice(voices, part if len(tunes) == 1 else None, source.name)
    said = f"{tune.field('K')} {voice.properties}"
    octaves = _OCTAVES.search(said)
    reader = VoiceReader(tune, voice, source.name, int(octaves[1]) if octaves else 0)
    open_bars = _with_codas(reader.bars())
    if not open_bars:
        raise TuneError("abc.no_notes", file=source.name)
    counted = bars_from(open_bars)
    warnings += _warnings_of(reader, open_bars, counted)
    order, said_of_order = _in_parts(open_bars, tune.field("P"))
    if len(order) > MAX_BARS:
        raise TuneError("abc.parts_too_long", file=source.name, count=len(order), limit=MAX_BARS)
    of_chords = LeftOut()
    bars = chords_kept_inside(counted if order is open_bars else bars_from(order), of_chords)
    octave = _octave(f"{said} {_directives(tune)}", read)
    bars = tuple(octave_shifted_bar(bar, octave.up) for bar in bars)
    check_playable(bars, source.name)
    return Score(
        title=title_of(tune),
        composer=readable(tune.field("C")),
        part=voice.name if len(voices) > 1 else "",
        reading=octave.reading,
        bars=bars,
        file_format="abc",
        octave_reason=octave.reason,
        sound_fixed=octave.sound_fixed,
        swung=swing_in_words(f"{tune.field('Q')} {tune.field('R')}"),
        feel=feel_in_fields(tune.field("Q"), tune.field("R")),
        warnings=(
            *warnings,
            *of_chords.warnings(bars_listed),
            *said_of_order,
            *unpaired_warnings([bar.marks for bar in bars]),
            *octave.warnings,
        ),
    )


def _warnings_of(reader: VoiceReader, open_bars: Sequence[OpenBar], counted: Sequence[Bar]) -> Iterator[Message]:
    """What the voice left out, by the numbers printed, and the bars that do not keep their metre."""
    yield from with_printed_numbers(reader.warnings(), lambda number: _number(counted, number))
    if reader.meter_named:
        yield from _odd_bars(open_bars, counted)
    else:
        yield message("abc.no_metre")


def _number(bars: Sequence[Bar], counted: int) -> str:
    return bars[min(counted, len(bars)) - 1].number if bars else str(counted)


def _chosen_voice(voices: Sequence[AbcVoice], part: int | None, file_name: str) -> tuple[AbcVoice, list[Message]]:
    names = tuple(voice.name or default_name("voice", number) for number, voice in enumerate(voices, start=1))
    if part is not None and not 1 <= part <= len(voices):
        raise _no_such_voice(names, part, file_name)
    chosen = voices[(part or 1) - 1]
    if len(voices) == 1 or part is not None:
        return chosen, []
    return chosen, [message("abc.first_voice", count=len(voices), voices=parts_listed(names))]


def _no_such_voice(names: Sequence[str], number: int, file_name: str) -> TuneError:
    if len(names) == 1:
        return TuneError("abc.only_one_voice", file=file_name, number=number)
    return TuneError("abc.no_such_voice", file=file_name, count=len(names), voices=parts_listed(names), number=number)


def _with_codas(bars: list[OpenBar]) -> list[OpenBar]:
    marks = resolved_codas([bar.marks for bar in bars], [bar.bare_coda for bar in bars])
    for bar, settled in zip(bars, marks, strict=True):
        bar.marks = settled
    return bars


def _odd_bars(bars: Sequence[OpenBar], made: Sequence[Bar]) -> list[Message]:
    """Bars in the middle of a section that do not hold what the metre asks for."""
    odd = [
        made[index].number
        for index in range(1, len(bars) - 1)
        if bars[index].length != bars[index].meter.bar_length
        and not (bars[index].at_repeat_sign or bars[index - 1].at_repeat_sign or bars[index].marks.ending_starts)
        and not bars[index + 1].marks.ending_starts
    ]
    return [message("abc.odd_bars", bars=bars_listed(odd))] if odd else []


def _in_parts(bars: list[OpenBar], order: str) -> tuple[list[OpenBar], list[Message]]:
    """The bars with the parts of the header's `P:` written out one after another, and sentences that say so and what is
    not played.
    """
    labels = _labels(order)
    groups: dict[str, list[OpenBar]] = {"": []}
    current = groups[""]
    for bar in bars:
        if bar.part:
            current = groups.setdefault(bar.part[:1], [])
        current.append(bar)
    if len(labels) < 2:
        return bars, []
    told = "".join(labels)
    if not any(groups.get(label) for label in labels):
        return bars, [message("abc.parts_unmarked", order=told)]
    first = [*groups[""]]
    written = [bar for label in labels for bar in _alone(groups.get(label, []))]
    said = [message("abc.parts_in_order", order=told)]
    missing = tuple(label for label in dict.fromkeys(labels) if not groups.get(label))
    unplayed = tuple(label for label, kept in groups.items() if label and kept and label not in labels)
    said += [message("abc.parts_missing", parts=missing, count=len(missing))] if missing else []
    said += [message("abc.parts_unplayed", parts=unplayed, count=len(unplayed))] if unplayed else []
    return [*first, *written], said


def _labels(order: str) -> list[str]:
    labels: list[str] = []
    for letter, times, inner, inner_times in _PARTS.findall(order.replace(" ", "").replace(".", "")[:200]):
        if inner:
            labels += _labels(inner) * min(int(inner_times or "1"), 64)
        else:
            labels += [letter] * min(int(times or "1"), 64)
    return labels[:1_000]


def _alone(bars: list[OpenBar]) -> list[OpenBar]:
    """The bars of one part: a closing sign without an opening one goes back to its own beginning."""
    if not bars or not any(bar.marks.repeat_end or bar.marks.endings for bar in bars):
        return bars
    return [replace(bars[0], marks=replace(bars[0].marks, repeat_start=True)), *bars[1:]]


def _directives(tune: AbcTune) -> str:
    return " ".join(value for letter, value in tune.header if letter == "%%" and value.startswith("MIDI transpose"))


def _octave(said: str, read: Reading | None) -> SettledOctave:
    transposed = _TRANSPOSE.search(said)
    semitones = int(transposed[1]) if transposed else 0
    warnings = []
    clef = _CLEF.search(said)
    in_clef = Clef.BASS if clef and clef[1] == Clef.BASS.value else Clef.TREBLE
    if clef and in_clef is Clef.TREBLE:
        warnings.append(message("octave.tune_in_clef", clef=message(f"clef.{clef[1]}")))
    if semitones not in (0, -12):
        warnings.append(message("octave.tune_shifted", semitones=semitones))
    if _OCTAVE_DOWN.search(said) or semitones == -12:
        return replace(
            fixed_octave(reading_in(in_clef, read), file_to_sound=-1, sign="octave_sign"), warnings=tuple(warnings)
        )
    return replace(open_octave(reading_in(in_clef, read, said=False)), warnings=tuple(warnings))
