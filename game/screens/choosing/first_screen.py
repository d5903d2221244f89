"""The screen that the game begins with, before the log is open: the first start, or Today as it was prepared."""

import msgspec

from game.lines.first_note import has_first_note
from game.player.prepared_sheet import read_prepared
from game.player.session import Session
from game.player.settings import InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.choosing.today_screen import TodayScreen
from game.screens.choosing.today_sheet import TodaySheet
from game.screens.context import ScreenContext
from game.text.catalogue import chosen, say


def first_screen(context: ScreenContext) -> BaseScreen:
    """The first note, for one of whom nothing is kept here. Else Today, with what was prepared for this day; of another
    day only the ink holds, and of nothing but its frame.
    """
    session = context.session
    kept = read_prepared(session.folder, session.today(), TodaySheet, session.settings, chosen().language)
    if kept is not None:
        sheet, of_today = kept
        return TodayScreen(context, sheet if of_today else _frame(session, sheet))
    if not session.profile.log_path.exists() and not session.profile.settings_path.exists():
        from game.screens.choosing.first_start_screen import FirstStartScreen  # noqa: PLC0415 - once in a life

        return FirstStartScreen(context)
    return TodayScreen(context, _frame(session, None))


def _frame(session: Session, before: TodaySheet | None) -> TodaySheet:
    """Today before its plan is known."""
    frame = TodaySheet(day=(), minutes=say("today.minutes", minutes=session.settings.plan_minutes))
    return frame if before is None else msgspec.structs.replace(frame, ink=before.ink)


def never_played(context: ScreenContext) -> bool:
    """Whether the player has never played, and chosen nothing of how they do. Asked for once the log is open."""
    session, settings = context.session, context.session.settings
    chosen_nothing = settings.instrument is InstrumentKind.GUITAR and not (settings.devices or settings.microphone)
    return chosen_nothing and has_first_note(settings.neck_map()) and not session.log.has_takes
