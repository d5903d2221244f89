"""The changelog as its readers see it."""

import re
from collections import Counter
from pathlib import Path

CHANGELOG = (Path(__file__).parents[1] / "CHANGELOG.md").read_text(encoding="utf-8")


def test_no_line_of_the_changelog_stands_there_twice():
    lines = Counter(line for line in CHANGELOG.splitlines() if line)
    assert not [line for line, count in lines.items() if count > 1]


def test_each_entry_of_the_changelog_is_whole_sentences():
    """What was merged badly breaks off in the middle, or goes on where an entry has ended."""
    entries = re.split(r"\n(?=- )", CHANGELOG.split("\n\n- ", 1)[1].strip())
    assert len(entries) > 50
    assert not [entry for entry in entries if not entry.endswith(".")]
