"""The text catalogue: everything that a person reads, by key, in the language that was chosen.

Each language is one gettext file, `content/text/LANGUAGE.po`, compiled to `.mo` by `python -m game.text.compile`.
Sentences have gaps as `str.format` has: `{title}`, `{bpm:.1f}`, and besides `{right:words}` for a number in words up to
twelve and `{right:Words}` for one that begins the sentence, `{right:alike}` and `{right:Alike}` where the numbers of a
sentence are all words or, one of them being larger, all figures, `{day}` and `{day:short}` for a day with and
without its year. Where an entry has plural forms, the value called `count` chooses among them.
"""

import gettext
from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache
from pathlib import PurePath

from game.message import VERBATIM, Message
from game.paths import shipped
from game.text.clean_text import harmless

SOURCE_LANGUAGE = "en"


class Catalogue:
    """The sentences of one language; those it lacks are English."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._texts: gettext.NullTranslations = _translations(language)
        if language != SOURCE_LANGUAGE:
            self._texts.add_fallback(_translations(SOURCE_LANGUAGE))

    def say(self, key: str, /, **values: object) -> str:
        """The sentence called `key`, its gaps filled. Raises `KeyError` for a key that is not in the catalogue."""
        if key == VERBATIM:
            return str(values["text"])
        sentence = self._sentence(key, values.get("count"))
        alike = all(self.has_word_for(value) for value in values.values() if isinstance(value, int))
        return sentence.format(**{name: self._shown(values[name], alike=alike) for name in values})

    def tell(self, message: Message) -> str:
        """A message in words."""
        return self.say(message.key, **dict(message.values))

    def in_words(self, number: int) -> str:
        """A number as it is written in running text: words up to twelve."""
        return self._number_words[number] if self.has_word_for(number) else str(number)

    def has_word_for(self, number: int) -> bool:
        """Whether a number is written as a word in running text."""
        return 0 <= number < len(self._number_words)

    def in_figures(self, number: float, spec: str = "") -> str:
        """A number in figures, as `format` has it, with the signs of the language: "1,234.5", "96%"."""
        return self.in_local_signs(format(number, spec))

    def in_local_signs(self, figures: str) -> str:
        """Figures as Python writes them ("1,234.5"), with the signs of the language."""
        group, decimal, per_cent = self._template("number.signs").split("|")
        return figures.translate({ord(","): group, ord("."): decimal, ord("%"): per_cent})

    def on_day(self, day: date, form: str = "long") -> str:
        """A day: `long` "3 March 2026", `short` "3 Mar"."""
        # Babel and its tables come when a day is told for the first time: the first frame does without.
        from game.text.dates import formatted  # noqa: PLC0415

        return formatted(day, self._template(f"date.{form}"), self.language)

    def in_row(self, items: Sequence[str]) -> str:
        """Items one after another, as the language joins them: "C, D and E"; "" for none."""
        *before, last = items or ("",)
        return self._sentence("row.last").format(before=", ".join(before), last=last) if before else last

    @property
    def _number_words(self) -> list[str]:
        return self._template("number.words").split()

    def _sentence(self, key: str, count: object = None) -> str:
        """What is said under a key, with its gaps; where a language says it otherwise than its text has it."""
        return self._template(key, count)

    def _template(self, key: str, count: object = None) -> str:
        text = key if not isinstance(count, int) else self._texts.ngettext(key, key, count)
        if text == key:
            text = self._texts.gettext(key)
        if text == key:
            raise KeyError(key)
        return text

    def _shown(self, value: object, *, alike: bool = True) -> object:
        if isinstance(value, Message):
            return self.tell(value)
        if isinstance(value, tuple):
            return _Row([str(self._shown(item)) for item in value], self)
        if isinstance(value, int | float) and not isinstance(value, bool):
            return _Number(value, self, alike=alike)
        if isinstance(value, date):
            return _Day(value, self)
        # Names of files and devices, and what systems say, may hold anything.
        return harmless(str(value)) if isinstance(value, str | PurePath) else value


class _Number:
    """A number in a gap: in words (`{n:words}`, `{n:Words}`, and `{n:alike}`, `{n:Alike}` where all numbers of the
    sentence are `alike`), or in figures with the signs of the language.
    """

    __slots__ = ("_alike", "_catalogue", "_number")

    def __init__(self, number: float, catalogue: Catalogue, *, alike: bool = True) -> None:
        self._number, self._catalogue, self._alike = number, catalogue, alike

    def __format__(self, spec: str) -> str:
        if spec.casefold() == "words" or (self._alike and spec.casefold() == "alike"):
            words = self._catalogue.in_words(int(self._number))
            return _capital(words) if spec[0].isupper() else words
        if spec.casefold() == "alike":
            spec = ""
        return self._catalogue.in_figures(self._number, spec)

    def __str__(self) -> str:
        return format(self, "")

    def __repr__(self) -> str:
        return repr(self._number)


class _Row:
    """Items in a gap: "C", "C and D", "C, D and E"; `{items:; }` puts what follows the colon between all of them."""

    __slots__ = ("_catalogue", "_items")

    def __init__(self, items: list[str], catalogue: Catalogue) -> None:
        self._items, self._catalogue = items, catalogue

    def __format__(self, spec: str) -> str:
        return spec.join(self._items) if spec else self._catalogue.in_row(self._items)


class _Day:
    """A day in a gap."""

    __slots__ = ("_catalogue", "_day")

    def __init__(self, day: date, catalogue: Catalogue) -> None:
        self._day, self._catalogue = day, catalogue

    def __format__(self, spec: str) -> str:
        return self._catalogue.on_day(self._day, spec or "long")

    def __repr__(self) -> str:
        return repr(self._day)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _translations(language: str) -> gettext.NullTranslations:
    with shipped("content", "text", f"{language}.mo").open("rb") as file:
        return gettext.GNUTranslations(file)


@cache
def catalogue_in(language: str) -> Catalogue:
    """The catalogue of a language. Raises `FileNotFoundError` for one that there is not."""
    return Catalogue(language)


class _Chosen:
    """The language in which the program speaks now."""

    catalogue: Catalogue | None = None


def chosen() -> Catalogue:
    """The catalogue of the language that was chosen, English until one was."""
    if _Chosen.catalogue is None:
        _Chosen.catalogue = catalogue_in(SOURCE_LANGUAGE)
    return _Chosen.catalogue


def choose(catalogue: Catalogue) -> None:
    """Speak this language from now on."""
    _Chosen.catalogue = catalogue


def say(key: str, /, **values: object) -> str:
    """The sentence called `key` in the language that was chosen."""
    return chosen().say(key, **values)


def tell(message: Message) -> str:
    """A message in the language that was chosen."""
    return chosen().tell(message)


def tell_all(messages: Iterable[Message]) -> str:
    """Some sentences, one after another, in the language that was chosen; empty where there are none."""
    return " ".join(tell(message) for message in messages)


def in_english(message: Message) -> str:
    """A message for answers that are the same everywhere, whatever language was chosen."""
    return catalogue_in(SOURCE_LANGUAGE).tell(message)


def all_in_english(messages: Iterable[Message]) -> str:
    """Some sentences, one after another, for answers that are the same everywhere."""
    return " ".join(in_english(message) for message in messages)


def readable(message: Message) -> Message:
    """A message out of a file, or one that says so where this version of the program has no words for it."""
    try:
        in_english(message)
    except (KeyError, IndexError, ValueError, TypeError, AttributeError, RecursionError):
        return Message("message.of_another_version")
    return message


def as_sentence(text: str) -> str:
    """An error message as a sentence on the page: a capital first, unless it begins with a file's name; a full stop."""
    first = text.split(maxsplit=1)[0] if text.strip() else ""
    shown = text if "." in first else _capital(text)
    return shown if shown.endswith((".", "?", "!", "…")) else f"{shown}."


def in_figures(number: float, spec: str = "") -> str:
    """A number in figures, as `format` has it, with the signs of the language."""
    return chosen().in_figures(number, spec)


def in_local_signs(figures: str) -> str:
    """Figures as Python writes them ("1,234.5"), with the signs of the language that was chosen."""
    return chosen().in_local_signs(figures)


def on_day(day: date, form: str = "long") -> str:
    """A day in the language that was chosen: `long` "3 March 2026", `short` "3 Mar"."""
    return chosen().on_day(day, form)
