"""Changes of the map that are asked for before they are made: what would be settled, what is said of it, and what the
yes is called. Pure, but for the words.
"""

import dataclasses
from dataclasses import dataclass

from msgspec.structs import replace

from game.music.names import NoteNames
from game.neck.map_figures import MapFigures
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.player.map_settings import is_changed_by_hand
from game.player.settings import Settings, Stretches
from game.screens.setup.map_shelf import MapShelf
from game.screens.setup.map_words import named, place_told
from game.text.catalogue import say

Choices = dict[int, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class MapChange:
    """A change that waits for a yes. `caution` is what should be heeded with it, empty for nothing. `map_id` is
    that of the kept map it leads to, empty for none.
    """

    settings: Settings
    told: str
    yes: str
    caution: str = ""
    map_id: str = ""


@dataclass(frozen=True, slots=True)
class MapChanges:
    """What can be changed on the map of these settings. Each raises `MapError` where the map would not fit the neck."""

    settings: Settings
    shelf: MapShelf

    @property
    def _map(self) -> NeckMap:
        return self.settings.neck_map()

    def _change(self, told: str, yes: str, **changes: object) -> MapChange:
        settings = replace(self.settings, **changes)
        moved = self.shelf.moved(self._map, settings.neck_map())
        moves = say("map.notes_move", count=moved) if moved else say("map.no_note_moves")
        return MapChange(settings, f"{told} {moves}", yes)

    @property
    def chosen_by_hand(self) -> bool:
        """Whether the map is more than its position."""
        return is_changed_by_hand(self.settings)

    def to_position(self, position: int) -> MapChange:
        """Another position, with its own homes and by itself."""
        yes = say("map.yes_position", position=roman(position))
        return self._change(self._goes_with_it(), yes, **_alone(position, {}))

    def _goes_with_it(self) -> str:
        settings, told = self.settings, []
        if settings.choices:
            told.append(say("map.ask_position", count=len(settings.choices), position=roman(settings.position)))
        if settings.second:
            told.append(say("map.ask_alone", position=roman(settings.second[0])))
        return " ".join(told)

    def move(self, place: Place, names: NoteNames) -> MapChange:
        """A place becomes the home of the pitch that it sounds."""
        neck_map = self._map
        sounding = neck_map.tuning.sounding(place)
        name = named(sounding, neck_map, names)
        kind = "move" if neck_map.home_of(sounding) else "add"
        choices = _written(neck_map.with_choice(place))
        return self._change(place_told(kind, place, note=name), say("map.yes_move", note=name), choices=choices)

    def plain(self) -> MapChange | None:
        """The homes that were chosen by hand go back; else a second region goes; None where there is neither."""
        settings = self.settings
        if settings.choices:
            told = say("map.ask_plain", count=len(settings.choices))
            return self._change(told, say("map.yes_plain"), choices={})
        if settings.second:
            told = say("map.ask_alone", position=roman(settings.second[0]))
            return self._change(told, say("map.yes_alone"), second=None)
        return None

    def stretches(self) -> MapChange:
        """Without the stretches, or with both where there are none."""
        none = self.settings.stretches is Stretches.NONE
        kind = "stretches" if none else "no_stretches"
        change = self._change(
            say(f"map.ask_{kind}"),
            say(f"map.yes_{kind}"),
            stretches=Stretches.BOTH if none else Stretches.NONE,
        )
        return dataclasses.replace(change, caution=say("map.caution"))

    def open_strings(self) -> MapChange:
        """The open strings become homes in every position, or are none any more."""
        kind = "no_open_strings" if self.settings.open_strings else "open_strings"
        return self._change(say(f"map.ask_{kind}"), say(f"map.yes_{kind}"), open_strings=not self.settings.open_strings)

    def to_best(self, best: MapFigures) -> MapChange:
        """The map that was found for a position, with the homes that it chose."""
        neck_map = best.neck_map
        position, choices = roman(neck_map.position), _written(neck_map)
        told = [say("map.ask_best", position=position)]
        told += [say("map.ask_best_chosen", count=len(choices))] if choices else []
        return self._change(
            " ".join(told), say("map.yes_position", position=position), **_alone(neck_map.position, choices)
        )


def _alone(position: int, choices: Choices) -> dict[str, object]:
    return {"position": position, "choices": choices, "second": None}


def _written(neck_map: NeckMap) -> Choices:
    return {sounding: (place.string, place.fret) for sounding, place in neck_map.choices.items()}
