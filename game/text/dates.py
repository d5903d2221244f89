"""Days as a language writes them, by the tables of the Unicode CLDR that Babel brings."""

from datetime import date

from babel.dates import format_date


def formatted(day: date, pattern: str, language: str) -> str:
    """A day by a pattern of the CLDR ("d MMMM y"), its names those of the language."""
    return format_date(day, pattern, locale=language)
