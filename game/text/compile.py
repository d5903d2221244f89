"""Compiles the text catalogues, after a change to `content/text/*.po`, and holds them against what the program asks
for: `python -m game.text.compile`.
"""

import re
import sys
from collections.abc import Mapping
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from game.paths import shipped
from game.text.catalogue import SOURCE_LANGUAGE
from game.text.catalogue_keys import keys_asked_for

_GAP = re.compile(r"\{(\w+)[^{}]*\}")


def sources() -> dict[str, Path]:
    """The `.po` file of each language."""
    return {path.stem: path for path in sorted(shipped("content", "text").glob("*.po"))}


def sentences(source: Path) -> dict[str, tuple[str, ...]]:
    """The sentences of a `.po` file by their keys, its plural forms in a row. Those without words are left out."""
    with source.open("rb") as file:
        entries = [entry for entry in read_po(file, locale=source.stem) if entry.id]
    forms = {entry.id if isinstance(entry.id, str) else entry.id[0]: entry.string for entry in entries}
    told = {key: (said,) if isinstance(said, str) else tuple(said or ()) for key, said in forms.items()}
    return {key: said for key, said in told.items() if said and all(said)}


def faults() -> list[str]:
    """What is wrong with the catalogues: keys asked for that are not there, keys that nobody asks for, and sentences of
    a language with gaps that the English ones do not have.
    """
    english, asked = sentences(sources()[SOURCE_LANGUAGE]), keys_asked_for()
    told = [f"{SOURCE_LANGUAGE}.po lacks {key}" for key in asked.missing(english)]
    told += [f"{SOURCE_LANGUAGE}.po has {key}, which nobody asks for" for key in asked.unused(english)]
    for language, source in sources().items():
        told += [f"{language}.po: {fault}" for fault in _strange(sentences(source), english)]
    return told


def _strange(translated: Mapping[str, tuple[str, ...]], english: Mapping[str, tuple[str, ...]]) -> list[str]:
    told = [f"{key} is not in English" for key in translated if key not in english]
    for key in translated.keys() & english.keys():
        strangers = _gaps(translated[key]) - _gaps(english[key])
        told += [f"{key} has a gap {{{gap}}} that the English has not" for gap in sorted(strangers)]
    return sorted(told)


def _gaps(forms: tuple[str, ...]) -> set[str]:
    return {gap for form in forms for gap in _GAP.findall(form)}


def untranslated(language: str) -> list[str]:
    """Keys that a language says in English still."""
    return sorted(sentences(sources()[SOURCE_LANGUAGE]).keys() - sentences(sources()[language]).keys())


def compiled(source: Path) -> bytes:
    """The `.mo` of a `.po` file."""
    with source.open("rb") as file:
        catalogue = read_po(file, locale=source.stem)
    # No dates of today: what is compiled twice is the same.
    catalogue.creation_date = catalogue.revision_date = datetime(2026, 1, 1, tzinfo=UTC)
    out = BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def main() -> int:
    """Compile every language, and tell what is wrong with them; 1 where something is."""
    for source in sources().values():
        source.with_suffix(".mo").write_bytes(compiled(source))
    for language in sources():
        if left := untranslated(language):
            print(f"{language}.po: {len(left)} sentences are still English, from {left[0]} to {left[-1]}")
    for fault in (told := faults()):
        print(fault)
    return int(bool(told))


if __name__ == "__main__":
    sys.exit(main())
