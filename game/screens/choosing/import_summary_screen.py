"""What was made of an imported tune: read, guessed, left out; how much of it lies on the map, and what to do."""

from dataclasses import replace

import msgspec
import pygame

from game.desk.fitted_text import Paragraph, draw_fitted
from game.desk.paper import draw_heading
from game.desk.typography import Face, with_music_signs
from game.errors import HomefretError
from game.message import message
from game.music.at_reading import at_reading
from game.music.names import name_in, spelling_of
from game.music.order_choices import choices_told, order_runs, read_next_way, straight_on
from game.music.score import Score
from game.neck.neck_map import roman
from game.practice.take_request import request_for
from game.screens.base_screen import BaseScreen
from game.screens.choosing.hand_in_words import hand_told
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToPage
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import as_sentence, say, tell
from game.tunes.library.fitting import FEW_OUTLYING, FittingOption, Remedy, notes_off_map, ways_to_fit
from game.tunes.library.library import keep_order, keep_variant
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.part_names import part_told

_FORMATS = {"musicxml": "MusicXML", "abc": "ABC", "midi": "MIDI"}
_MOST_WARNINGS = 5
_MOST_CHOICES = 3
_MOST_RUNS = 16
_FOOT_UNITS = 104
"""What the keys take at the foot of the paper."""


class ImportSummaryScreen(BaseScreen):
    """The account of one tune."""

    def __init__(self, context: ScreenContext, entry: ShelfEntry, score: Score) -> None:
        super().__init__(context)
        self.entry, self.score = entry, score
        self._look()

    def _look(self) -> None:
        self._choices = choices_told(self.score.bars)
        neck_map = self.context.settings.neck_map()
        self._read = at_reading(self.score, neck_map.reading, neck_map.places)
        self.without = notes_off_map(self._read, neck_map)
        self.ways: tuple[FittingOption, ...] = ways_to_fit(self._read, neck_map)
        self._hand = hand_told(self._read, neck_map)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self.context.session.log.facts.open_tune(self.entry.name)
            self.context.session.last_opened = self.entry
            return ToPage(request_for(self.score, self.context.settings.neck_map()))
        if event.key == pygame.K_o:
            self._read_next_way()
        if event.unicode.isdigit() and 1 <= int(event.unicode) <= len(self.ways):
            self._take(self.ways[int(event.unicode) - 1])
        return None

    def _take(self, way: FittingOption) -> None:
        """Do what was chosen; the account is then that of the tune as it is now."""
        settings = self.context.settings
        if way.score is not None:
            title = self._titled(way)
            try:
                self.entry, self.score = keep_variant(self.entry, way.score, title=title)
            except HomefretError as error:
                self.context.say_error(error)
        elif way.remedy is Remedy.POSITION:
            self.context.change_settings(
                msgspec.structs.replace(settings, position=way.position, choices={}, second=None)
            )
        else:
            tuning = settings.neck_map().tuning
            more = {tuning.sounding(place): (place.string, place.fret) for place in way.places}
            self.context.change_settings(msgspec.structs.replace(settings, choices={**settings.choices, **more}))
        self._look()

    def _read_next_way(self) -> None:
        """Read the signs the next way that there is; it is kept with the tune."""
        if not self.other_orders:
            return
        bars = read_next_way(self.score.bars)
        try:
            score = replace(self.score, bars=bars or self.score.bars)
            self.entry, self.score = keep_order(self.entry, score), score
        except HomefretError as error:
            self.context.say_error(error)
        self.context.session.plan.play_in_other_order(self.entry.name)
        self._look()

    @property
    def other_orders(self) -> bool:
        """Whether the signs of the page can be read otherwise, and the tune is the player's own, to be kept so."""
        return bool(self._choices) and not self.entry.shipped

    def _titled(self, way: FittingOption) -> str:
        assert way.score is not None
        if way.remedy is Remedy.KEY:
            return say("import_summary.in_key", title=self.entry.title, key=way.score.bars[0].key.name)
        up = way.score.bars[0].notes[:1] and _first(way.score) > _first(self._read)
        return say("import_summary.octave_up" if up else "import_summary.octave_down", title=self.entry.title)

    @property
    def sentences(self) -> tuple[str, ...]:
        """The account in words."""
        score, entry = self.score, self.entry
        said = [say("import_summary.read", format=_FORMATS[score.file_format], bars=entry.bars, notes=entry.notes)]
        if score.part:
            said.append(say("import_summary.part", part=part_told(score.part)))
        said += self._in_order()
        # In another clef the page has another octave, too, which is what the player sees.
        of_octave = self._read if self._read.reading.clef is not score.reading.clef else score
        if of_octave.octave_reason:
            said.append(as_sentence(tell(of_octave.octave_reason)))
        said.append(say("import_summary.swung" if score.swung else "import_summary.straight"))
        if score.feel:
            said.append(say("import_summary.feel", words=score.feel))
        said += [as_sentence(tell(warning)) for warning in score.warnings[:_MOST_WARNINGS]]
        if len(score.warnings) > _MOST_WARNINGS:
            said.append(say("import_summary.more", count=len(score.warnings) - _MOST_WARNINGS))
        if self._hand is not None:
            said.append(as_sentence(tell(self._hand)))
        on_map = "import_summary.on_map" if not self.without else "import_summary.off_map"
        said.append(say(on_map, count=self.without, of=entry.notes))
        return tuple(said)

    def _in_order(self) -> list[str]:
        """The order of play where it is not that of the page, and what was assumed about it."""
        if straight_on(self.score.bars) and not self._choices:
            return []
        runs = order_runs(self.score.bars)
        order, more = ", ".join(runs[:_MOST_RUNS]), len(runs) - _MOST_RUNS
        said = [say("import_summary.order", order=order)]
        if more > 0:
            said = [say("import_summary.order_and_more", order=order, count=more)]
        said += [as_sentence(tell(choice)) for choice in self._choices[:_MOST_CHOICES]]
        if len(self._choices) > _MOST_CHOICES:
            said.append(say("import_summary.more", count=len(self._choices) - _MOST_CHOICES))
        return said

    def _in_words(self, way: FittingOption) -> str:
        """A remedy and what it leaves."""
        if way.remedy is Remedy.OUTLYING:
            what = self._outlying_told(way)
        elif way.remedy is Remedy.POSITION:
            what = say("import_summary.position", position=roman(way.position))
        elif way.remedy is Remedy.KEY:
            assert way.score is not None
            what = say("import_summary.key", key=with_music_signs(way.score.bars[0].key.name))
        else:
            assert way.score is not None
            what = say("import_summary.higher" if _first(way.score) > _first(self._read) else "import_summary.lower")
        return what if not way.off_map else say("import_summary.leaves", what=what, count=way.off_map)

    def _outlying_told(self, way: FittingOption) -> str:
        """Which notes get an outlying home, as the page spells them, and where; of many only how many."""
        settings, places = self.context.settings, way.places
        if len(places) > FEW_OUTLYING:
            return say("import_summary.outlying_many", count=len(places))
        down = 12 * self._read.reading.octaves_down
        spelled = {note.pitch.midi - down: note.pitch for bar in self._read.bars for note in bar.notes}
        tuning = settings.neck_map().tuning
        notes = tuple(
            message(
                "import_summary.outlying_at" if place.fret else "import_summary.outlying_open",
                note=name_in(spelling_of(spelled[tuning.sounding(place)]), settings.note_names),
                string=place.string,
                fret=place.fret,
            )
            for place in places
        )
        return say("import_summary.outlying", count=len(places), notes=notes)

    def _paragraphs(self) -> list[Paragraph]:
        theme = self.context.theme
        said = [Paragraph(text=sentence, colour=theme.ink) for sentence in self.sentences]
        ways = [f"{number} – {self._in_words(way)}" for number, way in enumerate(self.ways, start=1)]
        return said + [Paragraph(text=way, colour=theme.faded, face=Face.ITALIC, indent=1.4) for way in ways]

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, self.entry.title, below=self.entry.composer)
        top = area.top + sheet.px(100)
        room = pygame.Rect(area.left, top, area.width, sheet.paper.bottom - sheet.px(_FOOT_UNITS) - top)
        draw_fitted(surface, self._paragraphs(), room, sheet.text_px)
        corner = draw_next(self.context, surface, say("import_summary.on"))
        keys = [("keys.escape", "keys.back")]
        if self.other_orders:
            keys.insert(0, ("O", "keys.other_order"))
        if self.ways:
            keys.insert(0, (" ".join(str(way + 1) for way in range(len(self.ways))), "keys.take"))
        draw_keys(self.context, surface, key_hints(*keys), right=corner.left / sheet.unit - 20)
        return True


def _first(score: Score) -> int:
    """The MIDI number of the first note of the page."""
    return next(note.pitch.midi for bar in score.bars for note in bar.notes)
