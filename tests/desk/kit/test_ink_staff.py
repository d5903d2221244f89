"""The staff of one's own notes."""

import itertools
from dataclasses import replace
from itertools import pairwise
from operator import sub

import pygame
import pytest

from game.desk.kit import ink_staff
from game.desk.kit.ink_staff import StaffRoom, draw_empty_staff, draw_ink_staff
from game.desk.kit.note_fill import Fill, FilledNote, fill_colour
from game.music.score import Reading

ROOM = StaffRoom(200, 760, 200, 11)
FILLS = (Fill.INK, Fill.PENCIL, Fill.EMPTY)
SCALE = [FilledNote(name, Fill.INK) for name in ("A3", "Bb3", "C4", "F#4", "E5", "C6")]


def covered(canvas, middle, colour):
    """How many pixels of a head are of its colour."""
    x, y = canvas.point(middle)
    reach = canvas.px(5)
    head = canvas.surface.subsurface((x - reach, y - reach, 2 * reach + 1, 2 * reach + 1))
    return pygame.mask.from_threshold(head, colour, (35, 35, 35, 255)).count()


def darkness(canvas, middle, half=5):
    """How much is drawn around a place, over the background that has only the lines."""
    x, y = canvas.point(middle)
    reach = canvas.px(half)
    paper = sum(canvas.theme.paper)
    return sum(
        abs(sum(canvas.surface.get_at((x + dx, y + dy))[:3]) - paper)
        for dx in range(-reach, reach + 1)
        for dy in range(-reach, reach + 1)
    )


def test_each_note_stands_on_its_line_or_space_from_left_to_right_inside_the_room(canvas):
    middles = draw_ink_staff(canvas, SCALE, ROOM)
    across = [x for x, _ in middles]
    assert across == sorted(across)
    assert ROOM.left + 40 < across[0]
    assert across[-1] < ROOM.right
    # F5 is the top line of the treble clef, E4 the bottom one, C5 the third space (trade).
    assert ROOM.y_of("F5") == ROOM.top
    assert ROOM.y_of("E4") == ROOM.top + 4 * ROOM.space
    assert ROOM.y_of("C5") == ROOM.top + 1.5 * ROOM.space
    assert [y for _, y in middles] == [ROOM.y_of(note.written) for note in SCALE]


def test_what_is_known_is_fuller_than_what_is_in_work_and_what_is_not_met_is_hollow(canvas):
    """Told by fill, for at night the colours are as bright: so much of a head is of its own colour."""
    middles = draw_ink_staff(canvas, [FilledNote("G5", fill) for fill in FILLS], ROOM)
    ink, in_work, empty = (
        covered(canvas, middle, fill_colour(canvas, fill)) for middle, fill in zip(middles, FILLS, strict=True)
    )
    assert ink > in_work
    assert ink > empty
    seen = canvas.surface.get_at(canvas.point(middles[2]))[:3]
    assert sum(map(abs, map(sub, seen, canvas.theme.paper))) < sum(map(abs, map(sub, seen, canvas.theme.read)))


def test_thirty_notes_with_half_of_them_altered_keep_apart(canvas):
    names = [f"{step}{sign}{octave}" for octave in (4, 5) for step in "CDEFGAB" for sign in ("", "b")]
    middles = draw_ink_staff(canvas, [FilledNote(name, Fill.INK) for name in names], ROOM)
    steps = [right[0] - left[0] for left, right in itertools.pairwise(middles)]
    assert min(steps) > 11


def test_a_ring_is_drawn_around_what_is_new_or_due(canvas):
    plain, new, due = draw_ink_staff(
        canvas, [FilledNote("C5", Fill.INK), FilledNote("C5", Fill.INK, ringed=True), FilledNote("C5", Fill.DUE)], ROOM
    )
    around = [darkness(canvas, middle, half=15) for middle in (plain, new, due)]
    assert min(around[1:]) > 1.1 * around[0]


@pytest.mark.parametrize("reading", [Reading.GUITAR, Reading.CONCERT])
def test_the_clef_of_the_guitar_has_its_eight_below(canvas, drawn, reading):
    draw_empty_staff(canvas, replace(ROOM, reading=reading))
    below = drawn(canvas).bottom - canvas.px(ROOM.top + 4 * ROOM.space)
    assert (below > canvas.px(20)) == bool(reading.octaves_down)


def test_the_clef_of_the_bass_has_its_eight_below_its_curl(canvas):
    """SMuFL `fClef` and `fClef8vb`: the figure hangs from the tail, on the lowest line of the staff."""
    inked = []
    for reading in (Reading.CONCERT_BASS, Reading.BASS):
        canvas.surface.fill(canvas.theme.paper)
        draw_empty_staff(canvas, replace(ROOM, reading=reading))
        tail = canvas.rect(ROOM.left, ROOM.top + 2 * ROOM.space, 4 * ROOM.space, 2 * ROOM.space)
        rows = pygame.surfarray.array2d(canvas.surface.subsurface(tail))
        inked.append(int((rows != canvas.surface.map_rgb(canvas.theme.paper)).sum()))
    assert inked[1] > 1.05 * inked[0]


@pytest.mark.parametrize(
    ("reading", "name", "steps"),
    [(Reading.GUITAR, "B4", 4), (Reading.BASS, "D3", 4), (Reading.BASS, "E2", 10), (Reading.CONCERT_BASS, "C4", -2)],
)
def test_a_note_stands_where_its_clef_has_it(reading, name, steps):
    """Half spaces below the top line: middle lines are B4 and D3; open E and middle C stand on ledgers (trade)."""
    room = replace(ROOM, reading=reading)
    assert room.y_of(name) == ROOM.top + steps * ROOM.space / 2


CHROMATIC = "Ab3 A3 Bb3 B3 C4 C#4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4 C5 C#5 D5 Eb5 E5 F5 F#5 G5 Ab5 A5 Bb5 B5 C6 C#6"


def test_thirty_notes_with_their_signs_stand_beside_each_other_and_not_upon(canvas, monkeypatch):
    """All pitches of a position, as they are once every one was met."""
    drawn, draw = [], ink_staff.draw_head
    monkeypatch.setattr(
        ink_staff, "draw_head", lambda *what, **how: drawn.append((what[1:], how)) or draw(*what, **how)
    )
    room = StaffRoom(650, 1212, 178, 11)
    draw_ink_staff(canvas, [FilledNote(written, Fill.INK) for written in CHROMATIC.split()], room)
    masks = [alone(canvas, draw, what, how) for what, how in drawn]
    assert len(masks) == 30
    meeting = [one.overlap_area(other, (0, 0)) for one, other in pairwise(masks)]
    # Ledger lines may run into each other.
    assert max(meeting) <= 14 * canvas.sheet.unit**2


def alone(canvas, draw, what, how):
    """The pixels of one head with its sign and its ledger lines."""
    canvas.surface.fill(canvas.theme.paper)
    draw(canvas, *what, **how)
    mask = pygame.mask.from_threshold(canvas.surface, canvas.theme.paper, (60, 60, 60, 255))
    mask.invert()
    return mask
