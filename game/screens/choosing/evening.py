"""The evening of a programme: its tunes one after the other, each played whole with the click, with bass and chords."""

from dataclasses import dataclass, replace

from game.coach.stages import Pulse, Stage
from game.errors import HomefretError
from game.player.tune_pages import TunePages, pages_of_tune
from game.practice.take_request import TakeRequest, request_for
from game.screens.context import ScreenContext
from game.tunes.library.library import open_entry, shelf
from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningTune:
    """A tune of the programme: where it stands on the shelf, None where it is gone; its pages, and whether it was
    played whole today.
    """

    name: str
    entry: ShelfEntry | None
    pages: TunePages
    played_today: bool

    @property
    def title(self) -> str:
        """Of the tune; empty where it is gone."""
        return self.entry.title if self.entry else ""


def evening_tunes(context: ScreenContext, names: tuple[str, ...]) -> tuple[EveningTune, ...]:
    """The tunes of these names, in their order."""
    on_shelf = {entry.name: entry for entry in shelf() if entry.name in names}
    return tuple(_tune(context, name, on_shelf.get(name)) for name in names)


def whole_request(context: ScreenContext, tune: EveningTune) -> TakeRequest | None:
    """The tune from its beginning to its end with the metronome, at the tempo that every page of it was kept at. None,
    with a sentence, where it cannot be opened.
    """
    if tune.entry is None:
        return None
    try:
        request = request_for(open_entry(tune.entry), context.settings.neck_map()).whole_or_passages()
    except HomefretError as error:
        context.say_error(error)
        return None
    bpm = tempo_of(context, tune)
    return replace(request.in_stage(Stage.TIME), pulse=Pulse.METRONOME, tempo_bpm=bpm, evening=True)


def tempo_of(context: ScreenContext, tune: EveningTune) -> int:
    """The slowest of the tempi that its pages were kept at, or the target where that is slower."""
    records, target = context.session.coach.state.records, context.settings.target_bpm
    kept = [records[page.key].held_bpm for page in tune.pages.pages if page.key in records]
    return min([target, *(bpm for bpm in kept if bpm is not None)])


def _tune(context: ScreenContext, name: str, entry: ShelfEntry | None) -> EveningTune:
    pages = pages_of_tune(entry, context.settings.neck_map()) if entry else TunePages()
    record = context.session.coach.state.records.get(pages.whole)
    today = context.session.today().toordinal()
    played = record is not None and record.day == today and record.takes_today > 0
    return EveningTune(name=name, entry=entry, pages=pages, played_today=played)
