"""A part of an assignment as a request: its tune or a fresh line, its bars, its first stage."""

from dataclasses import replace
from pathlib import Path
from random import Random

from game.assignments.assignment import AssignedLines, AssignedTune
from game.errors import TuneError
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.player.map_names import name_by_itself
from game.practice.assigned_take import AssignedTake
from game.practice.take_request import TakeRequest, request_for
from game.screens.choosing.fresh_requests import key_for_level, line_request
from game.screens.context import ScreenContext
from game.tunes.library.library import add, open_entry, shelf


def assigned_request(
    context: ScreenContext, folder: Path, part: AssignedTune | AssignedLines, neck_map: NeckMap, chance: Random
) -> TakeRequest:
    """A part of an assignment on the desk, on the map and with the target that hold in it; `folder` is where its files
    lie. Nothing of the player's own is changed. Raises `TuneError` for what is not there.
    """
    if isinstance(part, AssignedLines):
        key = key_for_level(part.level, neck_map, chance)
        request = line_request(context, part.level, key, chance, neck_map=neck_map)
    else:
        request = _tune_request(context, folder, part, neck_map)
    own = neck_map == context.settings.neck_map()
    request = replace(
        request,
        assigned=AssignedTake(target_bpm=part.target_bpm),
        map_name="" if own else name_by_itself(neck_map),
    )
    if not part.stages:
        return request
    return request.at_sight() if part.stages[0].once_through else request.in_stage(part.stages[0])


def _tune_request(context: ScreenContext, folder: Path, part: AssignedTune, neck_map: NeckMap) -> TakeRequest:
    if part.file_name:
        entry = add(folder / part.file_name)
    else:
        named = [entry for entry in shelf() if entry.title.casefold() == part.title.casefold()]
        if not named:
            raise TuneError("screen.tune_shelf_called_ask", title=part.title)
        entry = named[0]
    context.session.last_opened = entry
    context.session.log.facts.open_tune(entry.name)
    request = request_for(open_entry(entry), neck_map)
    return request if part.bars is None else replace(request, passages=(_bars(request, part.bars),), index=0)


def _bars(request: TakeRequest, bars: tuple[int, int]) -> Passage:
    """From the first bar with the one number, in order of play, to the next with the other."""
    score = request.passage.score
    numbers = [bar.number for bar in score.bars]
    first, last = (str(number) for number in bars)
    if first not in numbers or last not in numbers[numbers.index(first) :]:
        raise TuneError("screen.bars_ask_your_teacher", title=score.title, first=first, last=last)
    start = numbers.index(first)
    passage = Passage(score=score, start=start, stop=numbers.index(last, start) + 1)
    if not passage.notes:
        raise TuneError("screen.notes_bars_ask_your", title=score.title, first=first, last=last)
    return passage
