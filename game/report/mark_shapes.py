"""The pencil marks of `game.practice.pencilled` as shapes on an engraved line, where the desk draws them too."""

from collections.abc import Iterator

from game.engraving.shapes import Box, Shape, System
from game.music.written import HeadId
from game.practice.pencilled import (
    Mark,
    MissedMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
)
from game.report.pencil_strokes import QUIET, WRONG, head, ring, sign, stroke, written
from game.text.catalogue import in_figures

# SMuFL code points (`glyphnames.json`): double flat, flat, natural, sharp, double sharp.
_SIGNS = {-2: "E264", -1: "E260", 0: "E261", 1: "E262", 2: "E263"}
_LEDGER = 1.6
# A mark beside a note should not reach the next one.
_SIGN, _HALF_HEAD = 0.66, 0.5
_ROW_BELOW = 1.9
_FIGURE = 1.35
# A word on the pace stands under the arrow or the place of its note.
_WORD_ROW = 3.0


def mark_shapes(system: System, placed: PlacedMark) -> tuple[Shape, ...]:
    """The shapes of one mark, from the edges inwards; none for a mark that only a screen shows."""
    return tuple(_shapes(system, placed.head, placed.mark, placed.head.bar * 97 + placed.head.event))


def slow_shapes(system: System, head_id: HeadId, seconds: float) -> tuple[Shape, ...]:
    """A ring round a note that took long to find, with its seconds above."""
    box = system.head_boxes[head_id]
    circle = ring(_middle(box), 2.3, 0.12, QUIET, head_id.bar * 31 + head_id.event)
    y = min(_above(system, head_id), circle.box.top - 0.25)
    return circle, written(in_figures(seconds, ".1f"), (_middle(box)[0], y), _FIGURE, QUIET)


def _shapes(system: System, head_id: HeadId, mark: Mark, seed: int) -> Iterator[Shape]:
    x, _ = _middle(system.head_boxes[head_id])
    y = _above(system, head_id)
    match mark:
        case PlayedHead():
            yield from _played_head(system, head_id, mark, seed)
        case PlaceMark():
            yield from _place(system, head_id, mark, seed)
        case MissedMark():
            yield stroke(((x - 0.5, y - 0.85), (x, y - 0.1), (x + 0.5, y - 0.85)), 0.16, WRONG, seed)
        case SaidWrongMark():
            yield stroke(((x - 0.5, y - 1.0), (x + 0.5, y)), 0.15, WRONG, seed)
            yield stroke(((x + 0.5, y - 1.0), (x - 0.5, y)), 0.15, WRONG, seed + 1)
        case UnsureMark():
            yield written("?", (x, _below(system, head_id) + 0.9), _FIGURE, QUIET)
        case OffTimeMark():
            yield from _arrow(x, _below(system, head_id) + 0.45, seed, leftwards=mark.early)
        case PaceMark():
            yield written(mark.text, (x, _below(system, head_id) + _WORD_ROW), _FIGURE, QUIET)


def _played_head(system: System, head_id: HeadId, mark: PlayedHead, seed: int) -> Iterator[Shape]:
    """The small head stands over or under the printed one, beside it where they would touch."""
    printed = system.head_boxes[head_id]
    x, printed_y = _middle(printed)
    y = system.step_y(mark.pitch.staff_step)
    signed = sign(_SIGNS[mark.pitch.alter], 0.0, y, WRONG, size=_SIGN) if mark.show_sign else None
    sign_width = signed.box.right - signed.box.left + 0.1 if signed else 0.0
    if abs(y - printed_y) < 0.9:
        x = printed.right + 0.06 + sign_width + _HALF_HEAD
    yield head((x, y), WRONG, seed)
    if signed:
        yield sign(_SIGNS[mark.pitch.alter], x - _HALF_HEAD - 0.06, y, WRONG, size=_SIGN)
    for step in system.clef.ledger_steps(mark.pitch.staff_step):
        line_y = system.step_y(step)
        yield stroke(((x - _LEDGER / 2, line_y), (x + _LEDGER / 2, line_y)), 0.09, QUIET, seed + step)


def _place(system: System, head_id: HeadId, mark: PlaceMark, seed: int) -> Iterator[Shape]:
    """A circled string number and a fret, clear of the staff and of the note."""
    colour = QUIET if mark.home else WRONG
    x, _ = _middle(system.head_boxes[head_id])
    y = _below(system, head_id) + 0.9
    yield ring((x, y), 1.75, 0.11, colour, seed)
    yield written(str(mark.place.string), (x, y + 0.45), _FIGURE, colour)
    yield written(str(mark.place.fret), (x + 1.1, y + 0.45), _FIGURE, colour, anchor="start")


def _arrow(x: float, y: float, seed: int, *, leftwards: bool) -> Iterator[Shape]:
    """To the left under a note that came early, to the right under one that came late."""
    tip, tail = (x - 0.75, x + 0.75) if leftwards else (x + 0.75, x - 0.75)
    inward = 0.4 if leftwards else -0.4
    yield stroke(((tail, y), (tip, y)), 0.12, QUIET, seed)
    yield stroke(((tip + inward, y - 0.4), (tip, y), (tip + inward, y + 0.4)), 0.12, QUIET, seed + 1)


def _below(system: System, head_id: HeadId) -> float:
    """Where words under a note begin, clear of the staff and of the note."""
    return max(system.bottom_line + _ROW_BELOW, system.box_of(head_id).bottom + 0.7)


def _above(system: System, head_id: HeadId) -> float:
    """Where a sign over a note ends, clear of the staff and of the note."""
    return min(system.box_of(head_id).top, system.top_line) - 0.5


def _middle(box: Box) -> tuple[float, float]:
    return (box.left + box.right) / 2, (box.top + box.bottom) / 2
