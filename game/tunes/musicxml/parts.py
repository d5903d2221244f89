"""The parts of a checked score: listing them, choosing one, and what the score says about itself."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from game.errors import SeveralPartsError, TuneError
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_PARTS

_LISTED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenPart:
    """A part of a score; `number` counts from 1 in the order of the file."""

    number: int
    name: str
    element: Element


def chosen_part(root: Element, number: int | None, file_name: str) -> ChosenPart:
    """The part with that number, or the only one when `number` is None.

    Raises `SeveralPartsError` when there are several and none was chosen, `TuneError` when there is no such
    part.
    """
    parts = root.findall("part")
    if not parts:
        raise TuneError("musicxml.score_without_part_export", file_name=file_name)
    if len(parts) > MAX_PARTS:
        raise TuneError("musicxml.parts_more_than_export", file_name=file_name, count=len(parts), max_parts=MAX_PARTS)
    names = _part_names(root, parts)
    if number is None and len(parts) > 1:
        raise SeveralPartsError(
            "musicxml.parts_choose_one_part", file_name=file_name, count=len(parts), listed=listed(names), names=names
        )
    number = 1 if number is None else number
    if not 1 <= number <= len(parts):
        there = "only one part" if len(parts) == 1 else f"{len(parts)} parts ({listed(names)})"
        raise TuneError("musicxml.part_choose_one_those", file_name=file_name, there=there, number=number)
    return ChosenPart(number=number, name=names[number - 1], element=parts[number - 1])


def title_of(root: Element) -> str:
    """Movement title, else work title, else the largest words credited on page one; may be empty."""
    for path in ("movement-title", "work/work-title"):
        title = cleaned(root.findtext(path))
        if title:
            return title
    for credit in root.findall("credit"):
        if cleaned(credit.findtext("credit-type")) == "title":
            return cleaned(credit.findtext("credit-words"))
    words = [words for words in root.findall("credit[@page='1']/credit-words") if cleaned(words.text)]
    return cleaned(max(words, key=_font_size).text) if words else ""


def composer_of(root: Element) -> str:
    """The composer, or whoever the file names first; may be empty."""
    creators = root.findall("identification/creator")
    composers = [creator for creator in creators if creator.get("type") == "composer"]
    return cleaned((composers or creators)[0].text) if creators else ""


def source_named_in(root: Element) -> str:
    """Where the file says its music comes from (`identification/source`); may be empty."""
    return cleaned(root.findtext("identification/source"))


def _font_size(words: Element) -> float:
    try:
        return float(words.get("font-size", "0"))
    except ValueError:
        return 0.0


def _part_names(root: Element, parts: list[Element]) -> tuple[str, ...]:
    listed = {entry.get("id"): cleaned(entry.findtext("part-name")) for entry in root.findall("part-list/score-part")}
    return tuple(listed.get(part.get("id")) or f"part {number}" for number, part in enumerate(parts, start=1))


def listed(names: tuple[str, ...]) -> str:
    """The names with their numbers from 1, no more of them than can be read."""
    shown = ", ".join(f"{number} {cleaned(name, 40)}" for number, name in enumerate(names[:_LISTED], start=1))
    return shown if len(names) <= _LISTED else f"{shown}, and {len(names) - _LISTED} more"
