"""The tempo of a passage from take to take, as a small picture for a page of a class: full dots were clean, open ones
not, the red line is the target.
"""

from collections.abc import Iterator, Sequence

from game.practice_log.classes.need import PassageTake
from game.report.figure_words import short_day, tempo_said
from game.report.plain_svg import (
    ACCENT,
    INK,
    LIGHT,
    PAPER,
    QUIET,
    READ,
    Picture,
    dot,
    line,
    lines_through,
    svg_of,
    words,
)
from game.text.catalogue import say

_WIDTH, _HEIGHT = 520.0, 190.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 44.0, 14.0, 20.0, 30.0
_SIZE = 14.0
_LEAST_RANGE_BPM = 10.0
_DAY_ROOM = 52.0


def take_curve(takes: Sequence[PassageTake], target_bpm: int | None) -> Picture | None:
    """The picture of some takes against the click, oldest first; None for none."""
    played = [take for take in takes if take.tempo_bpm is not None]
    if not played:
        return None
    tempi = [take.tempo_bpm or 0.0 for take in played]
    clean = [take.tempo_bpm or 0.0 for take in played if take.is_clean]
    told = {"count": len(played), "first": tempi[0], "last": tempi[-1], "clean": len(clean)}
    said = say("student.curve.said", **told)
    if target_bpm:
        said = f"{said} {say('student.curve.target', target=target_bpm)}"
    svg = svg_of(_WIDTH, _HEIGHT, _parts(played, tempi, target_bpm), said)
    return Picture(svg=svg, caption=say("student.curve.caption"))


def _parts(played: Sequence[PassageTake], tempi: Sequence[float], target_bpm: int | None) -> Iterator[str]:
    lowest, highest = min([*tempi, target_bpm or tempi[0]]), max([*tempi, target_bpm or tempi[0]])
    missing = max(0.0, _LEAST_RANGE_BPM - (highest - lowest))
    lowest, highest = lowest - missing / 2, highest + missing / 2
    step = (_WIDTH - _LEFT - _RIGHT) / len(played)

    def x(at: float) -> float:
        return _LEFT + (at + 0.5) * step

    def y(tempo: float) -> float:
        return _TOP + (highest - tempo) / (highest - lowest) * (_HEIGHT - _TOP - _BOTTOM)

    yield line(_LEFT, _TOP - 10, _LEFT, _HEIGHT - _BOTTOM + 8, QUIET)
    for tempo in sorted({min(tempi), max(tempi)}):
        yield words(tempo_said(tempo), _LEFT - 6, y(tempo) + 4, _SIZE, INK, anchor="end")
    told_to = 0.0
    for at, take in enumerate(played):
        if at == 0 or take.day != played[at - 1].day:
            begins = x(at - 0.5)
            yield line(begins, _TOP - 10, begins, _HEIGHT - _BOTTOM + 8, LIGHT)
            if begins >= told_to:
                yield words(short_day(take.day), begins + 2, _HEIGHT - 6, _SIZE, QUIET)
                told_to = begins + _DAY_ROOM
    if target_bpm:
        yield line(_LEFT, y(target_bpm), _WIDTH - _RIGHT, y(target_bpm), ACCENT, 1.5, dashes="5 4")
    yield lines_through(((x(at), y(tempo)) for at, tempo in enumerate(tempi)), QUIET)
    for at, (take, tempo) in enumerate(zip(played, tempi, strict=True)):
        yield dot(x(at), y(tempo), 5.0, READ if take.is_clean else PAPER, READ, 1.8)
