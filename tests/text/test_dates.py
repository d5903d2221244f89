"""Days as a language writes them."""

from datetime import date

import pytest

from game.text.dates import formatted


@pytest.mark.parametrize(
    ("language", "pattern", "written"),
    [
        ("en", "d MMMM y", "3 September 2026"),
        ("de", "d. MMMM y", "3. September 2026"),
        ("de", "d. MMM", "3. Sept."),
        ("en", "EEEE", "Thursday"),
    ],
)
def test_patterns_and_names_are_those_of_the_unicode_cldr(language, pattern, written):
    """3 September 2026 is a Thursday."""
    assert formatted(date(2026, 9, 3), pattern, language) == written
