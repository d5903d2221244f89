"""Bars to MusicXML 4.0, by a writer of our own: quick, with an id for each notehead and every sign spelled
out.

The page decides: accidentals, beams, ties and tuplet brackets are written explicitly, so that whoever draws
the file has nothing to guess. Where the page sounds an octave lower, as for guitar and bass guitar, the clef carries
`clef-octave-change` -1 and, as the schema has it, the pitches are the sounding ones, an octave below the page.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from html import escape
from math import lcm

from game.engraving.bar_signs import closing_words, left_barline, opening_signs, right_barline, words_of_jump
from game.engraving.beams import beams_of
from game.engraving.note_xml import event_xml
from game.music.accidentals import ShownAccidental, shown_accidentals
from game.music.chords import ChordSymbol
from game.music.score import Bar, Reading
from game.music.written import HeadId

_OPENING = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)
# 8:5 is the 1.6:1 of written eighths at medium tempo (ours, see `game.judging.swing`); the schema wants whole numbers.
_FEELS = {
    None: "",
    True: "<words>Swing</words>|<first>8</first><second>5</second><swing-type>eighth</swing-type>",
    False: "<words>Straight eighths</words>|<straight/>",
}
_ALTERS = {"": 0, "#": 1, "b": -1, "##": 2, "bb": -2}
# For "N.C." and anything else without a root the schema still wants a root-step; its empty text hides it.
_NO_ROOT = '<root><root-step text="">C</root-step></root>'


def musicxml(  # noqa: PLR0913 - what the document says beside the bars, all by keyword
    bars: Sequence[Bar],
    reading: Reading,
    *,
    title: str = "",
    composer: str = "",
    part: str = "",
    system_starts: Sequence[int] = (),
    final_barline: bool = True,
    swung: bool | None = None,
) -> str:
    """The bars as one MusicXML document.

    Noteheads carry the ids of `game.engraving.ids`. Texts are escaped. `system_starts` are indices of bars
    that begin a new line of the page; `final_barline` draws the final bar line, which a passage has only where its tune
    ends; `swung` prints a word for it and MusicXML 4.0's `swing` sound, None prints
    nothing. Raises `ValueError` when there are no bars.
    """
    if not bars:
        raise ValueError("there are no bars to write")
    work = f"<work><work-title>{escape(title, quote=False)}</work-title></work>" if title else ""
    creator = (
        f'<identification><creator type="composer">{escape(composer, quote=False)}</creator></identification>'
        if composer
        else ""
    )
    measures = "\n".join(_measures(bars, reading, frozenset(system_starts), _feel(swung), final_barline=final_barline))
    return (
        f'{_OPENING}<score-partwise version="4.0">{work}{creator}'
        f'<part-list><score-part id="P1"><part-name>{escape(part, quote=False)}</part-name></score-part></part-list>\n'
        f'<part id="P1">\n{measures}\n</part></score-partwise>\n'
    )


def divisions_of(bars: Sequence[Bar]) -> int:
    """The fewest divisions of a quarter note that make every onset and length a whole number."""
    times = (time for bar in bars for event in bar.events for time in (event.onset, event.length))
    chords = (chord.onset for bar in bars for chord in bar.chords)
    return lcm(*(time.denominator for time in (*times, *chords, *(bar.length for bar in bars))))


def _feel(swung: bool | None) -> str:
    """How the eighths are meant, as a word above the first bar and as a sound."""
    words, _, sound = _FEELS[swung].partition("|")
    if not words:
        return ""
    return (
        f'<direction placement="above"><direction-type>{words}</direction-type>'
        f"<sound><swing>{sound}</swing></sound></direction>"
    )


def _measures(
    bars: Sequence[Bar], reading: Reading, system_starts: frozenset[int], feel: str, *, final_barline: bool
) -> Iterator[str]:
    divisions = divisions_of(bars)
    shown = shown_accidentals(bars)
    for index, bar in enumerate(bars):
        before = bars[index - 1] if index else None
        number = escape(bar.number)
        implicit = ' implicit="yes"' if bar.pickup else ""
        new_line = '<print new-system="yes"/>' if index in system_starts else ""
        attributes = _attributes(bar, before, reading, divisions)
        signs = opening_signs(bar.marks)
        music = _music(bar, index, shown[index], divisions, reading)
        end = closing_words(bar.marks, words_of_jump(bars, index))
        end += _end_of_bar(bars, index, system_starts, final_barline=final_barline)
        yield (
            f'<measure number="{number}"{implicit}>{new_line}{left_barline(bar.marks)}'
            f"{attributes}{feel if index == 0 else ''}{signs}{music}{end}</measure>"
        )


def _music(bar: Bar, index: int, shown: Sequence[ShownAccidental], divisions: int, reading: Reading) -> str:
    beams = beams_of(bar)
    return "".join(
        _harmonies(bar, position, divisions)
        + event_xml(bar, HeadId(index, position), accidental, beams, divisions, reading)
        for position, accidental in enumerate(shown)
    )


def _end_of_bar(bars: Sequence[Bar], index: int, system_starts: frozenset[int], *, final_barline: bool) -> str:
    last = index + 1 == len(bars)
    marks = bars[index].marks
    if not last and bars[index + 1].marks.repeat_start and index + 1 not in system_starts and not marks.repeat_end:
        # On one line of music the opening sign is the bar line of both bars (trade).
        marks = replace(marks, bar_line=None, jump=None)
        return right_barline(marks, last=False, key_changes=False)
    key_changes = not last and bars[index + 1].key.fifths != bars[index].key.fifths
    return right_barline(marks, last=last and final_barline, key_changes=key_changes)


def _attributes(bar: Bar, before: Bar | None, reading: Reading, divisions: int) -> str:
    """What is new at the start of a bar; all of it in the first."""
    parts = []
    if before is None:
        parts.append(f"<divisions>{divisions}</divisions>")
    if before is None or before.key.fifths != bar.key.fifths:
        # The naturals that take back the old signature (trade).
        cancel = (
            f"<cancel>{before.key.fifths}</cancel>" if before and _takes_back(before.key.fifths, bar.key.fifths) else ""
        )
        mode = "minor" if bar.key.minor else "major"
        parts.append(f"<key>{cancel}<fifths>{bar.key.fifths}</fifths><mode>{mode}</mode></key>")
    if before is None or before.meter != bar.meter:
        parts.append(f"<time><beats>{bar.meter.beats}</beats><beat-type>{bar.meter.unit}</beat-type></time>")
    if before is None:
        octave = f"<clef-octave-change>{-reading.octaves_down}</clef-octave-change>" if reading.octaves_down else ""
        clef = reading.clef
        parts.append(f"<clef><sign>{clef.sign}</sign><line>{clef.line}</line>{octave}</clef>")
    return f"<attributes>{''.join(parts)}</attributes>" if parts else ""


def _takes_back(old_fifths: int, new_fifths: int) -> bool:
    """Whether a change of signature drops signs: fewer of the same kind, the other kind, or none."""
    return old_fifths * new_fifths < 0 or abs(new_fifths) < abs(old_fifths)


def _harmonies(bar: Bar, position: int, divisions: int) -> str:
    """The chord symbols from the end of the event before to the end of this one; the last event takes all
    the rest.
    """
    if not bar.chords:
        return ""
    here = _end_of(bar, position - 1)
    end = _end_of(bar, position) if position + 1 < len(bar.events) else max(bar.length, here)
    return "".join(
        _harmony(chord, int((chord.onset - here) * divisions)) for chord in bar.chords if here <= chord.onset < end
    )


def _end_of(bar: Bar, position: int) -> Fraction:
    event = bar.events[position] if position >= 0 else None
    return event.onset + event.length if event else Fraction(0)


def _harmony(chord: ChordSymbol, offset_divisions: int) -> str:
    """One chord symbol, `offset_divisions` after the place in the bar where it is written."""
    root = _named("root", chord.root) if chord.root else _NO_ROOT
    kind = f'<kind text="{escape(_kind_text(chord))}">{escape(chord.kind or "none", quote=False)}</kind>'
    bass = _named("bass", chord.bass) if chord.bass else ""
    offset = f"<offset>{offset_divisions}</offset>" if offset_divisions else ""
    return f"<harmony>{root}{kind}{bass}{offset}</harmony>"


def _named(what: str, name: str) -> str:
    alter = _ALTERS.get(name[1:], 0)
    altered = f"<{what}-alter>{alter}</{what}-alter>" if alter else ""
    return f"<{what}><{what}-step>{escape(name[0], quote=False)}</{what}-step>{altered}</{what}>"


def _kind_text(chord: ChordSymbol) -> str:
    """What stands between the root and the bass in the text on the page: "m7" of "Gm7/D"."""
    text = chord.text.removeprefix(chord.root)
    return text.removesuffix(f"/{chord.bass}") if chord.bass else text
