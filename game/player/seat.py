"""Who sits at the desk: another player takes the seat, a new one comes, the same one sits down again."""

from contextlib import suppress

from game.errors import HomefretError
from game.message import message
from game.player.players_file import PlayerError
from game.player.profiles import Profile, add_player, players, remember_chosen
from game.player.session import Session, open_session
from game.player.settings_file import load, save


def switch_player(before: Session, profile: Profile) -> Session:
    """Another player takes the seat; all that the one before played is in their log first.

    Raises `HomefretError`, with everything as it was, where that log cannot be written now or the settings of the other
    cannot be read. That the choice cannot be remembered is no reason to refuse it: see `remember_player`.
    """
    if not before.log.flush():
        raise PlayerError("player.log_behind", trouble=before.log.trouble or message("log.not_written_yet"))
    kept = load(profile.settings_path)
    after = open_session(profile, before.clock, now=before.now, settings=kept.settings)
    after.settings_trouble = kept.trouble
    after.begin_practice()
    before.close()
    # What the one before played goes to their other computers without keeping the other waiting.
    before.gatherer.begin(before.clock.now_s())
    return after


def sit_down_again(before: Session) -> Session:
    """The same player once more, after their log was closed and another put in its place."""
    after = open_session(before.profile, before.clock, now=before.now, settings=before.settings)
    after.settings_of_file, after.settings_trouble = before.settings_of_file, before.settings_trouble
    after.begin_practice()
    return after


def remember_player(session: Session) -> None:
    """Let this player play at the next start too. Raises `PlayerError` where that cannot be written."""
    remember_chosen(session.profile)


def add_player_here(session: Session, name: str) -> Profile:
    """A new player at this desk, whose instruments are set up as they are for the one who plays now: they belong to the
    desk. Everything else is as it is at first. Raises `PlayerError`, and `OSError` where the settings cannot be kept.
    """
    player = add_player(name)
    save(session.settings.for_a_new_player(), player.settings_path)
    return player


def several_players() -> bool:
    """Whether others play on this computer too; no where that cannot be read."""
    with suppress(HomefretError):
        return len(players()) > 1
    return False
