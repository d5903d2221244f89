"""What became of files dropped on the window, in words."""

from typing import assert_never

from game.message import Message
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
        case ImportRefused():
            return _refused(news)
        case _:
            assert_never(news)


def which_part_in_words(asked: PartsToChoose) -> str:
    """The question in short, for where its keys are told: it stays until it is answered."""
    return say("shelf.which_part", file=asked.path.name, parts=parts_listed(asked.names[:MOST_PARTS_ASKED]))


def fault_told(fault: Message) -> str:
    """Why a file was not read, as a sentence; the name of the file that it begins with stays as it is."""
    told = tell(fault)
    name = str(dict(fault.values).get("file", ""))
    shown = as_sentence(told)
    return told[:1] + shown[1:] if name and told.startswith(name) else shown


def _done(news: ImportDone) -> str:
    """What came, the first note on it, and the first fault with how many there were."""
    entries, faults = news.entries, news.faults
    came = say("shelf.added", title=entries[-1].title)
    if len(entries) > 1:
        came = say("shelf.added_many", count=len(entries))
    refused = say("shelf.not_read", refused=len(faults), fault=fault_told(faults[0])) if faults else ""
    return " ".join(filter(None, (came, *_left(news.unread), tell_all(news.notes[:1]), refused)))


def _refused(news: ImportRefused) -> str:
    """Why the first was not read, and what was left unread."""
    why = [fault_told(fault) for fault in news.faults[:1]]
    return " ".join((*why, *_left(news.unread))) or say("shelf.nothing_there")


def _left(unread: int) -> tuple[str, ...]:
    return (say("shelf.unread", count=unread),) if unread else ()
