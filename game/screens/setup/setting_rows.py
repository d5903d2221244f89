"""The rows of the settings sheet: its three groups, in each the settings as they are declared and what leads on."""

from dataclasses import dataclass
from typing import Final

from game.player.setting_options import ChangedOn, Group, Option
from game.player.settings import OPTIONS
from game.screens.context import ScreenContext
from game.screens.routes import Route, ToInstruments, ToMicrophones, ToPlayers, ToSharing, ToTuning
from game.text.catalogue import say, tell


@dataclass(frozen=True, slots=True)
class SettingRow:
    """A line of the sheet: a setting whose value the arrows change, a way to a sheet of its own, or both."""

    name: str
    option: Option | None = None
    route: Route | None = None

    @property
    def words(self) -> str:
        """What it is called."""
        return tell(self.option.name_words) if self.option else say(f"settings.{self.name}")

    @property
    def why(self) -> str:
        """What it does, in a sentence."""
        return tell(self.option.explanation) if self.option else say(f"settings.{self.name}.why")

    def value(self, context: ScreenContext) -> str:
        """How it stands."""
        if self.name == "instrument" and context.settings.by_microphone:
            return say("settings.instrument.heard")
        if self.option is not None:
            return tell(self.option.value_words(getattr(context.settings, self.name)))
        return _LEADING_VALUES[self.name](context)


def _who_plays(context: ScreenContext) -> str:
    return context.session.name or say("players.first")


def _shared_through(context: ScreenContext) -> str:
    folder = context.session.sharing.folder
    return say("settings.sharing.none") if folder is None else folder.name or str(folder)


def _listened_to(context: ScreenContext) -> str:
    return context.settings.device or say("settings.instruments.any")


def _heard_by(context: ScreenContext) -> str:
    settings = context.settings
    if settings.by_microphone:
        return settings.microphone
    return say("settings.heard.none" if context.listens else "settings.heard.marked")


_LEADING_VALUES: Final = {
    "players": _who_plays,
    "sharing": _shared_through,
    "instruments": _listened_to,
    "heard": _heard_by,
}
_LEADS: Final[dict[str, Route]] = {"tuning": ToTuning()}
"""Settings with more to choose than the arrows go through."""

_BEFORE: Final = {
    Group.GUITAR: (SettingRow("instruments", route=ToInstruments()), SettingRow("heard", route=ToMicrophones())),
}
_BEHIND: Final = {
    Group.PRACTICE: (SettingRow("players", route=ToPlayers()), SettingRow("sharing", route=ToSharing())),
}

GROUPS: Final = (Group.APPEARANCE, Group.GUITAR, Group.PRACTICE)
"""From the top down."""


def rows_of(group: Group) -> tuple[SettingRow, ...]:
    """The rows of a group, in their order."""
    declared = (
        SettingRow(option.name, option, _LEADS.get(option.name))
        for option in OPTIONS.values()
        if option.group is group and option.shown.on is ChangedOn.SETTINGS
    )
    return (*_BEFORE.get(group, ()), *declared, *_BEHIND.get(group, ()))
