"""Signs that steer the order of play, read from the bars of a checked MusicXML part.

Each sign is found however the file has it: as a symbol, as an attribute of `sound` (MusicXML 4.0), or in
words. Where a coda sign stands for "To Coda" and where for the coda itself is told by the words and sounds
beside it, failing those by order: of two bare signs the first is where one leaves (trade).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from game.message import Message, message
from game.music.score import BarMarks, Jump, Until
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_TIMES
from game.tunes.musicxml.ending_signs import with_endings
from game.tunes.musicxml.order_words import names_coda, times_in_words, with_instruction
from game.tunes.musicxml.page_signs import with_page_signs

# The signs that belong together, and the one by which a part is seen to have them.
_FAMILIES = (
    (("repeat_start", "repeat_end"), "repeat_end"),
    (("endings", "ending_starts", "ending_stops"), "endings"),
    (("segno", "coda", "to_coda", "fine", "jump", "until", "jump_words"), "jump"),
    (("bar_line",), "bar_line"),
    (("section",), "section"),
)


def marks_of(part: Element, others: Sequence[Element] = ()) -> tuple[tuple[BarMarks, ...], tuple[Message, ...]]:
    """The marks of each bar of `part`, and warnings about signs that lack their other half.

    `others` are all parts of the score: many programs write endings, words and jumps in the top part alone.
    """
    measures = part.findall("measure")
    marks = _marks_of_part(measures)
    for other in others:
        theirs = other.findall("measure")
        if other is not part and len(theirs) == len(measures):
            marks = _completed(marks, _marks_of_part(theirs))
    return tuple(marks), (*unpaired_warnings(marks), *_times_told(measures), *_in_mid_bar(measures))


def _marks_of_part(measures: Sequence[Element]) -> list[BarMarks]:
    marks = _with_repeats([_signs(measure) for measure in measures], measures)
    marks = resolved_codas(marks, [_bare_codas(measure) for measure in measures])
    return with_page_signs(with_endings(marks, measures), measures)


def _completed(marks: list[BarMarks], theirs: list[BarMarks]) -> list[BarMarks]:
    """The marks with the repeats, the endings and the jumps of another part, each where this one has none at all."""
    for names, tells in _FAMILIES:
        if any(getattr(mark, tells) for mark in theirs) and not any(getattr(mark, tells) for mark in marks):
            marks = [
                replace(mark, **{name: getattr(other, name) for name in names})
                for mark, other in zip(marks, theirs, strict=True)
            ]
    return marks


def _signs(measure: Element) -> BarMarks:
    """Everything but repeats, endings and bare coda symbols."""
    marks = BarMarks()
    for sound in (*measure.findall("sound"), *measure.findall("direction/sound")):
        marks = _with_sound(marks, sound)
    for words in _instructions(measure):
        marks = with_instruction(marks, words)
    if measure.find("direction/direction-type/segno") is not None or measure.find("barline/segno") is not None:
        marks = replace(marks, segno=True)
    return marks


def _instructions(measure: Element) -> Iterator[str]:
    """What stands in words over a bar. One instruction may be cut into several pieces, each in its own type."""
    for direction in measure.findall("direction"):
        yield " ".join(cleaned(piece.text) for piece in direction.findall("direction-type/words"))
        for mark in direction.findall("direction-type/rehearsal"):
            if names_coda(cleaned(mark.text)):
                yield cleaned(mark.text)


def _with_repeats(marks: list[BarMarks], measures: Sequence[Element]) -> list[BarMarks]:
    """The marks with repeat signs. An opening sign at a right bar line opens the next bar, a closing one at a left bar
    line closes the bar before.
    """
    signed = list(marks)
    for bar, measure in enumerate(measures):
        for barline in measure.findall("barline"):
            for repeat in barline.findall("repeat"):
                side = barline.get("location", "right")
                if repeat.get("direction") == "forward":
                    at = min(bar + (side == "right"), len(measures) - 1)
                    signed[at] = replace(signed[at], repeat_start=True)
                elif repeat.get("direction") == "backward":
                    at = max(bar - (side == "left"), 0)
                    signed[at] = replace(signed[at], repeat_end=_times(repeat, measures[at]))
    return signed


def _times(repeat: Element, measure: Element) -> int:
    """How often in all: twice when unsaid, in words as in numbers; 0 and 1 are how some programs say "not at all"."""
    times = int(repeat.get("times") or _times_in_words(measure) or 2)
    return min(times, MAX_TIMES) if times != 1 else 0


def _times_in_words(measure: Element) -> int | None:
    """How often in all, where words over the bar of a repeat sign say it."""
    return next(filter(None, map(times_in_words, _instructions(measure))), None)


def _times_told(measures: Sequence[Element]) -> Iterator[Message]:
    for measure in measures:
        signs = measure.findall("barline/repeat[@direction='backward']")
        times = _times_in_words(measure) if signs and not any(sign.get("times") for sign in signs) else None
        if times:
            yield message("tune.times_in_words", bar=cleaned(measure.get("number"), 20), count=times)


def _with_sound(marks: BarMarks, sound: Element) -> BarMarks:
    if sound.get("forward-repeat") == "yes":
        marks = replace(marks, repeat_start=True)
    if sound.get("dacapo") == "yes":
        marks = replace(marks, jump=Jump.DA_CAPO)
    if sound.get("dalsegno"):
        marks = replace(marks, jump=Jump.DAL_SEGNO)
    return replace(
        marks,
        segno=marks.segno or bool(sound.get("segno")),
        coda=marks.coda or bool(sound.get("coda")),
        to_coda=marks.to_coda or bool(sound.get("tocoda")),
        fine=marks.fine or (bool(sound.get("fine")) and sound.get("fine") != "no"),
    )


def _bare_codas(measure: Element) -> bool:
    return measure.find("direction/direction-type/coda") is not None or measure.find("barline/coda") is not None


def resolved_codas(marks: list[BarMarks], bare: list[bool]) -> list[BarMarks]:
    """Give each coda symbol its meaning where neither sound nor words beside it did."""
    unsettled = [bar for bar, mark in enumerate(marks) if bare[bar] and not mark.coda and not mark.to_coda]
    settled = list(marks)
    leaves = any(mark.to_coda for mark in marks)
    for bar in unsettled:
        arrives_later = any(other > bar for other in unsettled) or any(mark.coda for mark in marks[bar + 1 :])
        if not leaves and arrives_later:
            settled[bar] = replace(settled[bar], to_coda=True)
            leaves = True
        else:
            settled[bar] = replace(settled[bar], coda=True)
    return settled


def unpaired_warnings(marks: list[BarMarks]) -> tuple[Message, ...]:
    """A sentence for each sign of a tune that lacks its other half."""
    warnings = []
    if any(mark.jump is Jump.DAL_SEGNO for mark in marks) and not any(mark.segno for mark in marks):
        warnings.append(message("tune.no_segno"))
    if any(mark.to_coda for mark in marks) and not any(mark.coda for mark in marks):
        warnings.append(message("tune.no_coda"))
    if any(mark.until is Until.FINE for mark in marks) and not any(mark.fine for mark in marks):
        warnings.append(message("tune.no_fine"))
    if any(mark.until is Until.CODA for mark in marks) and not any(mark.to_coda for mark in marks):
        warnings.append(message("tune.no_to_coda"))
    return tuple(warnings)


def _in_mid_bar(measures: Sequence[Element]) -> tuple[Message, ...]:
    bars = [
        cleaned(measure.get("number"), 20)
        for measure in measures
        if measure.find("barline[@location='middle']/repeat") is not None
    ]
    return tuple(message("tune.repeat_in_mid_bar", bar=bar) for bar in bars)
