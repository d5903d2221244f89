"""The tune of a part of an assignment, found on the shelf, and the bars of it that were set."""

import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from game.assignments.assignment import AssignedTune
from game.assignments.set_against_done import PartMusic
from game.coach.notes.map_identity import map_key
from game.errors import TuneError
from game.music.passage import Passage, whole_tune
from game.neck.neck_map import NeckMap
from game.paths import file_called
from game.practice.take_request import TakeRequest, request_for
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry


def same_title(title: str) -> str:
    """What a title is compared by: without case, apostrophes of one kind, spaces as one."""
    plain = unicodedata.normalize("NFC", title).casefold().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    return " ".join(plain.split())


def tune_titled(title: str, entries: Iterable[ShelfEntry]) -> ShelfEntry | None:
    """The first tune of a title; None where none is called so."""
    wanted = same_title(title)
    return next((entry for entry in entries if same_title(entry.title) == wanted), None)


def lies_beside(part: AssignedTune, folder: Path) -> bool:
    """Whether the file of a tune lies in the folder of its assignment."""
    return bool(part.file_name) and file_called(folder, part.file_name).is_file()


def tune_request(entry: ShelfEntry, part: AssignedTune, neck_map: NeckMap) -> TakeRequest:
    """A tune with the bars that were set, or all of it, at its first page. Raises `TuneError` for bars it lacks."""
    request = request_for(open_entry(entry), neck_map)
    return request if part.bars is None else replace(request, passages=(_bars(request, part.bars),), index=0)


def part_music(number: int, request: TakeRequest) -> PartMusic:
    """What a part was laid on the desk as: the pages of the request, and what is read where it is played in one."""
    pages = tuple(passage_key(page) for page in request.passages)
    whole = pages[0] if len(pages) == 1 else passage_key(whole_tune(request.passage.score))
    return PartMusic(part=number, pages=pages, whole=whole, neck_map=map_key(request.neck_map))


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
