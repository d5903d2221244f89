"""Compiles the text catalogues, after a change to `content/text/*.po`: `python -m game.text.compile`."""

from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from game.paths import shipped


def compiled(source: Path) -> bytes:
    """The `.mo` of a `.po` file."""
    with source.open("rb") as file:
        catalogue = read_po(file, locale=source.stem)
    # No dates of today: what is compiled twice is the same.
    catalogue.creation_date = catalogue.revision_date = datetime(2026, 1, 1, tzinfo=UTC)
    out = BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def main() -> None:
    """Compile every language."""
    for source in sorted(shipped("content", "text").glob("*.po")):
        source.with_suffix(".mo").write_bytes(compiled(source))


if __name__ == "__main__":
    main()
