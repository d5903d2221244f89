"""MusicXML to our Score: checks, then music21 for the notes, then marks, chords and octave. It runs in the reading
process, like music21.
"""

from dataclasses import replace
from fractions import Fraction
from xml.etree.ElementTree import Element

from game.errors import TuneError
from game.music.note_values import rests_between
from game.music.score import Bar, BarMarks, NoteValue, Reading, Rest, Score
from game.text.clean_text import cleaned
from game.tunes.feel_words import feel_of_part
from game.tunes.left_out import LeftOut, bars_listed, with_printed_numbers
from game.tunes.musicxml.bar_times import bar_times
from game.tunes.musicxml.checked_xml import checked_tree
from game.tunes.musicxml.divisions import say_divisions
from game.tunes.musicxml.note_reader import read_notes
from game.tunes.musicxml.order_signs import marks_of
from game.tunes.musicxml.part_check import check_part
from game.tunes.musicxml.part_chords import with_chords
from game.tunes.musicxml.parts import chosen_part, composer_of, title_of
from game.tunes.musicxml.plain_part import plain_part
from game.tunes.musicxml.reading_octave import octave_shifted_bar, settled_octave
from game.tunes.musicxml.ties import with_ties_meant
from game.tunes.musicxml.unsaid_metre import say_metre
from game.tunes.playable import check_playable
from game.tunes.sandbox.tune_source import TuneSource
from game.tunes.swing_words import swing_asked


def read_musicxml(source: TuneSource, part: int | None, read: Reading | None) -> Score:
    """Read one part of a MusicXML text."""
    root = checked_tree(source)
    chosen = chosen_part(root, part, source.name)
    say_divisions(chosen.element, source.name)
    check_part(chosen.element, source.name)
    of_metre = say_metre(chosen.element)
    marks, mark_warnings = marks_of(chosen.element, root.findall("part"))
    octave = settled_octave(chosen.element, read)
    xml, left_out = plain_part(chosen.element)
    notes = _notes(xml, source.name)
    measures = chosen.element.findall("measure")
    if len(measures) != len(notes.bars):
        raise TuneError("musicxml.bars_lost", file=source.name, sent=len(measures), came_back=len(notes.bars))
    ends = (times.end for times in bar_times(chosen.element))
    bars: tuple[Bar, ...] = tuple(
        _bar(_as_long_as(bar, end, measure), measure, mark, octave.up)
        for bar, end, measure, mark in zip(notes.bars, ends, measures, marks, strict=True)
    )
    of_ties, of_chords = LeftOut(), LeftOut()
    bars = with_ties_meant(bars, of_ties)
    bars = with_chords(bars, chosen.element, of_chords)
    check_playable(bars, source.name)
    title = title_of(root)
    feel = feel_of_part(root, chosen.element, title=title)
    return Score(
        title=title,
        composer=composer_of(root),
        part=chosen.name,
        reading=octave.reading,
        bars=bars,
        file_format="musicxml",
        octave_reason=octave.reason,
        sound_fixed=octave.sound_fixed,
        swung=swing_asked(chosen.element, feel),
        feel=feel,
        warnings=(
            *of_metre,
            *left_out,
            *with_printed_numbers(notes.warnings, lambda counted: bars[counted - 1].number),
            *of_ties.warnings(bars_listed),
            *of_chords.warnings(bars_listed),
            *mark_warnings,
            *octave.warnings,
        ),
    )


def _notes(xml: bytes, name: str) -> Score:
    try:
        return read_notes(xml)
    except (TuneError, MemoryError):
        raise
    except Exception as fault:
        # music21 raises anything.
        told = cleaned(f"{type(fault).__name__}: {fault}", 100)
        raise TuneError("tune.notes_make_no_sense", file=name, fault=told) from fault


def _bar(bar: Bar, measure: Element, marks: BarMarks, up: int) -> Bar:
    """The bar with its printed number and everything the note reader was not shown."""
    return replace(
        octave_shifted_bar(bar, up),
        number=cleaned(measure.get("number"), 20) or bar.number,
        marks=marks,
    )


def _as_long_as(bar: Bar, end: Fraction, measure: Element) -> Bar:
    """The bar filled up with rests as far as the file goes on in it: music21 passes over a last `forward`. A pickup bar
    in which the part rests is no longer than the file has it.
    """
    end = min(end, bar.meter.bar_length)
    if bar.number == "1" and not bar.notes and measure.get("implicit") == "yes" and 0 < end < bar.length:
        rest = Rest(onset=Fraction(0), length=end, value=NoteValue(base=Fraction(4)), whole_bar=True)
        return replace(bar, length=end, pickup=True, events=(rest,))
    if end <= bar.length:
        return bar
    pickup = bar.pickup and end < bar.meter.bar_length
    return replace(bar, length=end, pickup=pickup, events=(*bar.events, *rests_between(bar.length, end)))
