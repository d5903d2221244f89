"""The parts of a checked score: listing them, choosing one, and what the score says about itself."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from game.errors import SeveralPartsError, TuneError
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_PARTS
from game.tunes.part_names import default_name, no_such_part, parts_listed


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
        raise TuneError("musicxml.no_part", file=file_name)
    if len(parts) > MAX_PARTS:
        raise TuneError("musicxml.too_many_parts", file=file_name, count=len(parts), limit=MAX_PARTS)
    names = _part_names(root, parts)
    if number is None and len(parts) > 1:
        raise SeveralPartsError(
            "musicxml.several_parts", file=file_name, count=len(parts), parts=parts_listed(names), names=names
        )
    number = 1 if number is None else number
    if not 1 <= number <= len(parts):
        raise no_such_part(names, number, file_name)
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
    named = {entry.get("id"): cleaned(entry.findtext("part-name")) for entry in root.findall("part-list/score-part")}
    return tuple(
        named.get(part.get("id")) or default_name("part", number) for number, part in enumerate(parts, start=1)
    )
