"""Who sits at the desk: a player with their log, coach, mastery, plan and settings, and how another takes the seat.

Nothing of it happens during a take.
"""

from game.errors import HomefretError
from game.player.player_coach import PlayerCoach
from game.player.player_log import PlayerLog
from game.player.player_notes import PlayerNotes
from game.player.player_plan import PlayerPlan
from game.player.profiles import Player, PlayerError, add_player, keep_chosen, players
from game.player.settings import Settings, load, save
from game.screens.context import Looked, ScreenContext
from game.text.catalogue import say
from game.text.language import choose_language

_OF_THE_DESK = ("instrument", "base_channel", "device", "devices", "pedals", "limits")


def sit_down(around: ScreenContext, keeping: PlayerLog) -> None:
    """Lay out what is made of a log: takes that were cut short are judged, and the coach follows from there."""
    keeping.hold()
    keeping.finish_cut_short()
    around.keeping = keeping
    around.coaching = PlayerCoach(keeping, target_bpm=around.settings.target_bpm)
    around.mastering = PlayerNotes(keeping)
    around.planning = PlayerPlan(around.coaching, around.mastering, lambda: around.settings, around.clock.now_s)


def add_beside(around: ScreenContext, name: str) -> Player:
    """A new player at this desk, whose instruments are set up as they are for the one who plays now: they belong to the
    desk. Everything else is as it is at first. Raises `PlayerError`.
    """
    player = add_player(name)
    settings = Settings(**{which: getattr(around.settings, which) for which in _OF_THE_DESK})
    try:
        save(settings, player.settings_path)
    except OSError as error:
        around.say(say("settings.not_kept", reason=error.strerror))
    return player


def change_player(around: ScreenContext, player: Player) -> None:
    """Another player takes the seat; all that the one before played is in their log first.

    Raises `HomefretError`, with everything as it was, where that log cannot be written now or the settings of the
    other make no sense. That the choice cannot be remembered is only said.
    """
    before = around.keeping
    if before is not None and not before.written():
        trouble = before.trouble or "the log is not written yet"
        raise PlayerError("player.change_players_when_what", trouble=trouble)
    settings, several = load(player.settings_path), len(players()) > 1
    keeping = PlayerLog(player.folder)
    if before is not None:
        before.close()
    around.settings, around.settings_path, around.folder = settings, player.settings_path, player.folder
    choose_language(settings.language)
    around.player_name, around.several_players = player.name, several
    around.opened, around.looked, around.told_how_by_hand = None, Looked(), False
    sit_down(around, keeping)
    if around.sound is not None:
        around.sound.set_volume(settings.volume)
        around.sound.make_ready(tuple(settings.neck_map().places))
    try:
        keep_chosen(player)
    except HomefretError as error:
        around.say_error(error)
