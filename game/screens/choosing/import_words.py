"""What became of files dropped on the window, in words."""

from typing import assert_never

from game.text.catalogue import as_sentence, say, tell, tell_all
from game.tunes.library.import_results import (
    ImportDone,
    ImportNews,
    ImportProgress,
    ImportRefused,
    ImportStarted,
    PartsToChoose,
)
from game.tunes.part_names import parts_listed

MOST_PARTS_ASKED = 9
"""Parts are chosen by a digit, and a question of more is not read."""


def import_told(news: ImportNews | ImportStarted) -> str:
    """The sentence that the player reads."""
    match news:
        case ImportStarted(path):
            return say("shelf.reading_file", file=path.name)
        case ImportProgress(path=path, number=number, count=count):
            return say("shelf.reading_many", number=number, count=count, file=path.name)
        case PartsToChoose(path, names):
            return say("shelf.several_parts", file=path.name, parts=parts_listed(names[:MOST_PARTS_ASKED]))
        case ImportDone():
            return _done(news)
        case ImportRefused(()):
            return say("shelf.nothing_there")
        case ImportRefused(faults):
            return as_sentence(tell(faults[0]))
        case _:
            assert_never(news)


def _done(news: ImportDone) -> str:
    """What came, the first note on it, and the first fault with how many there were."""
    entries, faults = news.entries, news.faults
    came = say("shelf.added", title=entries[-1].title)
    if len(entries) > 1:
        came = say("shelf.added_many", count=len(entries))
    refused = say("shelf.not_read", refused=len(faults), fault=as_sentence(tell(faults[0]))) if faults else ""
    return " ".join(filter(None, (came, tell_all(news.notes[:1]), refused)))
