"""Signs that steer the order of play, read from the bars of a checked MusicXML part.

Each sign is found however the file has it: as a symbol, as an attribute of `sound` (MusicXML 4.0), or in
words. Where a coda sign stands for "To Coda" and where for the coda itself is told by the words and sounds
beside it, failing those by order: of two bare signs the first is where one leaves (trade).
"""

import re
from dataclasses import replace
from xml.etree.ElementTree import Element

from game.message import Message, message
from game.music.score import BarMarks, Jump, Until
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_TIMES

_DA_CAPO = re.compile(r"\bd\s*\.\s*c\b|\bd\.?c\.|\bda\s+capo\b", re.IGNORECASE)
_DAL_SEGNO = re.compile(r"\bd\s*\.\s*s\b|\bd\.?s\.|\b(dal|del|da)\s+segno\b", re.IGNORECASE)
_TO_CODA = re.compile(r"\bto\s+(the\s+)?coda\b|\bda\s+coda\b", re.IGNORECASE)
_CODA = re.compile(r"\W*coda\W*", re.IGNORECASE)
_FINE = re.compile(r"\W*(il\s+)?fine\W*", re.IGNORECASE)
_SEGNO = re.compile(r"\W*segno\W*", re.IGNORECASE)
_AL_FINE = re.compile(r"\bal\s+fine\b", re.IGNORECASE)
_AL_CODA = re.compile(r"\bcoda\b", re.IGNORECASE)
_NUMBERS = re.compile(r"(\d{1,2})\s*-\s*(\d{1,2})|(\d{1,2})")
# Bar lines that end an ending whose bracket the file forgot to close.
_HEAVY = frozenset({"light-light", "light-heavy", "heavy-light", "heavy-heavy", "heavy"})


def marks_of(part: Element) -> tuple[tuple[BarMarks, ...], tuple[Message, ...]]:
    """The marks of each bar of `part`, and warnings about signs that lack their other half."""
    measures = part.findall("measure")
    marks = [_signs(measure) for measure in measures]
    marks = resolved_codas(marks, [_bare_codas(measure) for measure in measures])
    marks = _with_endings(marks, measures)
    return tuple(marks), (*unpaired_warnings(marks), *_in_mid_bar(measures))


def _signs(measure: Element) -> BarMarks:
    """Everything but the endings and bare coda symbols."""
    marks = BarMarks()
    for repeat in measure.findall("barline/repeat"):
        if repeat.get("direction") == "forward":
            marks = replace(marks, repeat_start=True)
        elif repeat.get("direction") == "backward":
            marks = replace(marks, repeat_end=_times(repeat))
    for sound in (*measure.findall("sound"), *measure.findall("direction/sound")):
        marks = _with_sound(marks, sound)
    for direction in measure.findall("direction"):
        # One instruction may be cut into several pieces of text, each in its own type.
        words = (cleaned(piece.text) for piece in direction.findall("direction-type/words"))
        marks = with_instruction(marks, " ".join(words))
    if measure.find("direction/direction-type/segno") is not None or measure.find("barline/segno") is not None:
        marks = replace(marks, segno=True)
    return marks


def _times(repeat: Element) -> int:
    """How often in all: twice when unsaid; 0 and 1 are how some programs say "not at all"."""
    times = int(repeat.get("times") or 2)
    return min(times, MAX_TIMES) if times != 1 else 0


def _with_sound(marks: BarMarks, sound: Element) -> BarMarks:
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


def with_instruction(marks: BarMarks, words: str) -> BarMarks:
    """The marks with what these words on the page ask for; other words change nothing."""
    jump = None
    if _DAL_SEGNO.search(words):
        jump = Jump.DAL_SEGNO
    elif _DA_CAPO.search(words):
        jump = Jump.DA_CAPO
    if jump:
        until = Until.FINE if _AL_FINE.search(words) else Until.CODA if _AL_CODA.search(words) else None
        return replace(marks, jump=jump, until=until)
    if _TO_CODA.search(words):
        return replace(marks, to_coda=True)
    if _CODA.fullmatch(words):
        return replace(marks, coda=True)
    if _SEGNO.fullmatch(words):
        return replace(marks, segno=True)
    return replace(marks, fine=True) if _FINE.fullmatch(words) else marks


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


def _with_endings(marks: list[BarMarks], measures: list[Element]) -> list[BarMarks]:
    numbered = list(marks)
    numbers: tuple[int, ...] = ()
    for bar, measure in enumerate(measures):
        started = _ending_numbers(measure)
        if started:
            numbers = started
        elif marks[bar].repeat_start or measure.find("barline[@location='left']/ending") is not None:
            numbers = ()
        if not numbers:
            continue
        stops = _ending_stops(measure) or marks[bar].repeat_end > 0 or _heavy_right(measure)
        numbered[bar] = replace(marks[bar], endings=numbers, ending_starts=bool(started), ending_stops=stops)
        if stops:
            numbers = ()
    return numbered


def _ending_numbers(measure: Element) -> tuple[int, ...]:
    """The numbers of a bracket that starts here: "1", "1, 2", "1.-3."; of one without a number, 1."""
    for ending in measure.findall("barline/ending[@type='start']"):
        numbers: set[int] = set()
        for first, last, single in _NUMBERS.findall(cleaned(ending.get("number"), 40)):
            numbers.update(range(int(first), min(int(last), MAX_TIMES) + 1) if first else [int(single)])
        return tuple(sorted(number for number in numbers if 1 <= number <= MAX_TIMES)) or (1,)
    return ()


def _ending_stops(measure: Element) -> bool:
    return any(ending.get("type") in {"stop", "discontinue"} for ending in measure.findall("barline/ending"))


def _heavy_right(measure: Element) -> bool:
    return any(
        barline.get("location", "right") == "right" and cleaned(barline.findtext("bar-style")) in _HEAVY
        for barline in measure.findall("barline")
    )


def unpaired_warnings(marks: list[BarMarks]) -> tuple[Message, ...]:
    """A sentence for each sign of a tune that lacks its other half."""
    warnings = []
    if any(mark.jump is Jump.DAL_SEGNO for mark in marks) and not any(mark.segno for mark in marks):
        warnings.append(message("tune.no_segno"))
    if any(mark.to_coda for mark in marks) and not any(mark.coda for mark in marks):
        warnings.append(message("tune.no_coda"))
    return tuple(warnings)


def _in_mid_bar(measures: list[Element]) -> tuple[Message, ...]:
    bars = [
        cleaned(measure.get("number"), 20)
        for measure in measures
        if measure.find("barline[@location='middle']/repeat") is not None
    ]
    return tuple(message("tune.repeat_in_mid_bar", bar=bar) for bar in bars)
