"""Which language is spoken: the one that the variable HOMEFRET_LANGUAGE names (for tests, and for a teacher before a
class), else the one of the player's settings, else the one of the system's locale. A language there is not is English.
"""

import os
from collections.abc import Mapping

from game.message import Message, verbatim
from game.paths import shipped
from game.text.catalogue import SOURCE_LANGUAGE, Catalogue, catalogue_in, choose

LANGUAGE_VARIABLE = "HOMEFRET_LANGUAGE"
PSEUDO = "pseudo"
"""How the language of brackets is asked for. It is nobody's: no setting offers it."""

_LOCALE_VARIABLES = ("LC_ALL", "LC_MESSAGES", "LANG")
"""In the order in which they are asked: the first that is set counts (POSIX.1-2017, Base Definitions, 8.2)."""


def choose_language(setting: str = "") -> None:
    """Speak, from now on, as variable, `setting` ("" leaves it to the locale) or locale want it."""
    choose(_catalogue_of(wanted_language(setting, os.environ)))


def wanted_language(setting: str, environment: Mapping[str, str]) -> str:
    """The language to speak: a key of `languages`, or the one in brackets."""
    named = environment.get(LANGUAGE_VARIABLE, "") or setting or _of_locale(environment)
    language = _without_country(named)
    return language if language in (*languages(), PSEUDO) else SOURCE_LANGUAGE


def languages() -> tuple[str, ...]:
    """The languages that there are, by their codes (ISO 639), in the order of the alphabet."""
    return tuple(sorted(file.name.removesuffix(".mo") for file in shipped("content", "text").glob("*.mo")))


def own_name(language: str) -> Message:
    """What a language calls itself. Raises `FileNotFoundError` for one that there is not."""
    return verbatim(catalogue_in(language).say("language.own_name"))


def _of_locale(environment: Mapping[str, str]) -> str:
    return next((value for name in _LOCALE_VARIABLES if (value := environment.get(name))), "")


def _without_country(locale: str) -> str:
    """The language of a locale as systems write it: `de` of "de_AT.UTF-8@euro"."""
    for sign in "_-.@":
        locale = locale.partition(sign)[0]
    return locale.casefold()


def _catalogue_of(language: str) -> Catalogue:
    if language != PSEUDO:
        return catalogue_in(language)
    from game.text.pseudo import BracketedCatalogue  # noqa: PLC0415 - no player waits for it

    return BracketedCatalogue()
