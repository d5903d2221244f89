"""The take of the first note. It was shown where it is, so that the note is met by it, and no more."""

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.lines.first_note import first_note_score
from game.music.passage import whole_tune
from game.music.written import written_out
from game.practice.places_take import PlacesTake
from game.practice_log.rows.log_records import Terms
from game.screens.context import ScreenContext


class FirstTake:
    """A take of one note, helped from its beginning at `now_s`."""

    def __init__(self, context: ScreenContext, now_s: float) -> None:
        self._session = context.session
        passage, neck_map = whole_tune(written_out(first_note_score())), context.settings.neck_map()
        self._recorder = self._session.recorder(passage, neck_map, Terms(stage=Stage.PLACES), zero_s=now_s)
        self._take = PlacesTake(passage, neck_map, now_s=now_s, recorder=self._recorder)
        while self._take.ask_help(now_s) is not HintStep.PLACE:
            continue

    def hear(self, played: PlayedNote) -> bool:
        """Take a note into account; whether the note is found."""
        self._take.hear(played)
        return self._take.done

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> bool:
        """A note turns out to be another, or none; whether the note is found all the same."""
        self._take.revise(before, after)
        return self._take.done

    def end(self) -> None:
        """The take is over: notes and coach hear of it."""
        self._session.finish_take(self._take.end(), self._recorder)
