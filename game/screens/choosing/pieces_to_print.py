"""What is to be printed for a player: today's pages, tunes, an assignment, unseen lines."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random

from game.assignments.assigned_map import map_held
from game.assignments.assignment import AssignedTune
from game.assignments.assignment_reader import read_assignment
from game.assignments.set_against_done import Part, parts_of
from game.lines.titles import title_told
from game.music.score import Score
from game.player.assigned_music import tune_titled
from game.practice.page_positions import numerals_on
from game.practice.take_request import TakeRequest, request_for
from game.report.printed_pages import PrintedPiece
from game.screens.choosing.assigned_request import in_set_stage, part_request
from game.screens.choosing.fresh_requests import key_for_level, line_request
from game.screens.choosing.planned_route import step_request
from game.screens.context import ScreenContext
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.page_heading import stage_in_words
from game.text.catalogue import say, tell
from game.tunes.library.library import add, shelf
from game.tunes.library.shelf_entry import ShelfEntry


def todays_pieces(context: ScreenContext, chance: Random) -> Iterator[PrintedPiece]:
    """The music of the steps of today that are still to be done. Raises `TuneError` where it is gone."""
    progress = context.session.plan.progress
    for step in progress.steps[progress.at :]:
        if step.stage is not None:
            yield _piece(step_request(context, step, chance))


def assigned_pieces(context: ScreenContext, path: Path, chance: Random) -> Iterator[PrintedPiece]:
    """The parts of an assignment. Raises `HomefretError` for what is not there."""
    assignment = read_assignment(path)
    held = map_held(assignment.neck_map, context.settings.neck_map())
    for part in parts_of(assignment):
        request = part_request(context, part, _tune_of(part, path.parent), held.neck_map, chance)
        stage = next(iter(part.stages), None)
        yield _piece(request if stage is None else in_set_stage(request, part, stage))


def _tune_of(part: Part, folder: Path) -> ShelfEntry | None:
    """The tune of a part, of the shelf or of a file beside the assignment. Raises `TuneError`."""
    if not isinstance(part, AssignedTune):
        return None
    return add(folder / part.file_name) if part.file_name else tune_titled(part.title, shelf())


def tune_pieces(context: ScreenContext, scores: Sequence[Score]) -> Iterator[PrintedPiece]:
    """Whole tunes, as they are notated."""
    yield from (_piece(request_for(score, context.settings.neck_map()).at_sight()) for score in scores)


def unseen_pieces(context: ScreenContext, number: int, chance: Random) -> Iterator[PrintedPiece]:
    """So many lines of the player's level that they have not met."""
    for _ in range(number):
        level = context.settings.line_level
        key = key_for_level(level, context.settings.neck_map(), chance)
        yield _piece(line_request(context, level, key, chance).at_sight())


def _piece(request: TakeRequest) -> PrintedPiece:
    """A page as it is read on the desk: what is met for the first time with its signs, passages written out."""
    passage = request.passage
    bars = request.score.bars if request.stage.once_through else passage.bars
    facts = say("print.facts", bars=bars_in_words(passage), asked=stage_in_words(request))
    return PrintedPiece(
        title=tell(title_told(passage.score.title)),
        facts=facts,
        bars=bars,
        reading=passage.reading,
        numerals=numerals_on(request),
    )
