"""The staff with every note that was read, the darker the quicker it is found: the map chart's other half."""

from collections.abc import Iterator, Sequence
from html import escape

from game.desk.shading import ShadedNote, shaded
from game.engraving.engraver import UNITS_PER_SPACE, EngravedFace
from game.engraving.glyphs import clef_code, glyph_box
from game.engraving.shapes import Shape
from game.music.clef import Clef
from game.music.names import NoteNames
from game.music.pitch import Pitch, pitch
from game.music.score import Reading
from game.practice_log.queries.figure_records import NoteFigures
from game.report import figure_words
from game.report.pencil_strokes import QUIET, WRONG, ring, sign, written
from game.report.plain_svg import Picture
from game.text.catalogue import in_figures, say

# SMuFL code points (`glyphnames.json`).
_SIGNS = {-2: "E264", -1: "E260", 1: "E262", 2: "E263"}
_HEAD = "E0A4"
_INK, _READ, _PAPER = (32, 29, 26), (30, 66, 132), (255, 255, 255)
# In staff spaces.
_CLEF, _NOTE, _SIGN, _RINGED, _ABOVE, _BELOW, _LEDGER = 4.3, 1.9, 1.1, 0.5, 2.9, 1.2, 0.35
_LEAST_WIDTH = 46.0


def slow_on_the_staff(
    notes: Sequence[NoteFigures], slow: Sequence[NoteFigures], reading: Reading, names: NoteNames = NoteNames.ENGLISH
) -> Picture | None:
    """The staff of the notes read, `slow` ones ringed with their seconds; None without notes."""
    ringed = [note.written for note in slow]
    drawn = shaded(notes, ringed)
    if not drawn:
        return None
    steps = [pitch(note.written).staff_step for note in drawn]
    clef = reading.clef
    top = min(-1.6, _y(max(steps), clef) - _ABOVE)
    bottom = max(4 + 2.6, _y(min(steps), clef) + _BELOW)
    body = "".join(_shapes(drawn, reading))
    right = max(_LEAST_WIDTH, _right_of(drawn))
    view = " ".join(str(round(spaces * UNITS_PER_SPACE)) for spaces in (0, top, right, bottom - top))
    said = escape(_alternative(len(drawn), slow, names), quote=True)
    return Picture(
        svg=f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" role="img" aria-label="{said}">{body}</svg>',
        caption=say("report.staff.caption_ringed" if slow else "report.staff.caption"),
    )


def _alternative(drawn: int, slow: Sequence[NoteFigures], names: NoteNames) -> str:
    """What is to be seen, in words."""
    if not slow:
        return say("report.staff.none_ringed", notes=drawn)
    ringed = tuple(
        f"{figure_words.note_said(note.written, names)} {figure_words.seconds_said(note.find_s)}" for note in slow
    )
    return say("report.staff.ringed", notes=drawn, ringed=ringed)


def _shapes(notes: Sequence[ShadedNote], reading: Reading) -> Iterator[str]:
    right = _units(_right_of(notes))
    rows = "".join(f"M0,{_units(row)}H{right}" for row in range(5))
    yield f'<path d="{rows}" stroke="{QUIET}" stroke-width="{_units(0.08)}"/>'
    clef, code = reading.clef, clef_code(reading)
    box = glyph_box(EngravedFace.ENGRAVED.value, code)
    yield sign(code, 0.4 + box.right - box.left, _y(clef.own_step, clef), _colour(_INK), size=1.0).svg
    x = _CLEF
    for note in notes:
        spelled = pitch(note.written)
        x += _room(note)
        yield from (shape.svg for shape in _note(note, spelled, x - _NOTE / 2, clef))


def _note(note: ShadedNote, spelled: Pitch, x: float, clef: Clef) -> Iterator[Shape]:
    y = _y(spelled.staff_step, clef)
    box = glyph_box(EngravedFace.ENGRAVED.value, _HEAD)
    half = (box.right - box.left) / 2
    for step in clef.ledger_steps(spelled.staff_step):
        row, left, right = _units(_y(step, clef)), _units(x - half - _LEDGER), _units(x + half + _LEDGER)
        yield Shape(f'<path d="M{left},{row}H{right}" stroke="{QUIET}" stroke-width="{_units(0.1)}"/>', box)
    if spelled.alter:
        yield sign(_SIGNS[spelled.alter], x - half - 0.25, y, _colour(_INK), size=1.0)
    shade = tuple(round(a + (b - a) * note.shade) for a, b in zip(_PAPER, _READ, strict=True))
    for size, colour in ((1.1, _INK), (0.86, shade)):
        yield sign(_HEAD, x + half * size, y, _colour(colour), size=size)
    if note.ringed:
        yield ring((x, y), 2.1, 0.13, WRONG, spelled.midi)
        if note.find_s is not None:
            yield written(in_figures(note.find_s, ".1f"), (x, y - 1.65), 1.3, WRONG)


def _room(note: ShadedNote) -> float:
    """How much of the staff a note takes: with a ring its seconds stand beside no others."""
    return _NOTE + (_SIGN if pitch(note.written).alter else 0.0) + (_RINGED if note.ringed else 0.0)


def _right_of(notes: Sequence[ShadedNote]) -> float:
    return _CLEF + sum(map(_room, notes)) + 0.5


def _y(staff_step: int, clef: Clef) -> float:
    return (clef.top_step - staff_step) / 2


def _units(spaces: float) -> int:
    return round(spaces * UNITS_PER_SPACE)


def _colour(rgb: Sequence[int]) -> str:
    return "#" + "".join(f"{part:02x}" for part in rgb)
