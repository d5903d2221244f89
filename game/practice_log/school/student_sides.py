"""One student as two sides know them, put together so that no take is lost: what is there, and what a folder brings.

Takes are told from each other by `entry_key`. The side whose last take is the later one is the *newer* (with as many
days, the one with more takes; else what is brought): its judgements, names and other rows stand. What the other knows
beside is kept: its takes with their notes, and the bars, passages, marks and set parts that the newer lacks. Mostly one
side has all takes of the other, and then every number is what the newer says. Only where each has takes that the other
lacks are the numbers of days and passages counted again from all takes together, as the log counts them; how often bars
were met before is then as each side knew it, until a file with everything comes.

Rows are as in `class_schema.TABLES`, without the student's id, by table; a column called like one of the tables that
give numbers holds such a number.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from game.practice_log.classes.class_schema import KEYS, TABLES

Row = tuple[Any, ...]
Rows = dict[str, list[Row]]

NUMBERED = {
    "passage": ("passage_key",),
    "bars": ("passage", "title", "first", "last", "start_bar", "stop_bar"),
    "item": ("written", "sounding", "string", "fret"),
    "take": ("entry_key",),
}
"""The tables that give numbers, each after those whose numbers stand in it; and what tells their rows apart."""

BY_TABLE = {table: {name: at for at, (name, _) in enumerate(columns)} for table, columns in TABLES.items()}
"""Where each column stands in a row."""

_KEPT_OF_BOTH = frozenset({"same_player", "delivery", "assignment", "set_part"})
_COUNTED = ("minutes", "takes", "read", "clean", "found", "found_s", "found_s2", "read_timed", "clean_timed")


@dataclass(frozen=True, slots=True)
class MergedStudent:
    """What two sides come to; the numbers that the takes and items of what is `brought` have there (`takes`, `items`);
    and which of these takes come from it, with their notes (by the number there).
    """

    rows: Rows
    takes: Mapping[int, int]
    items: Mapping[int, int]
    brought: frozenset[int]


def merged(there: Rows, brings: Rows, since: date | None = None) -> MergedStudent:
    """What is there and what is brought, in the numbers of what is there; new ones are given the next. Both sides may
    have forgotten what is older than `since`.
    """
    numbers = _numbers(there, brings)
    brought = _as_judged(_renumbered(brings, numbers), there)
    takes_there, takes_brought = _by_entry(there), _by_entry(brought)
    is_newer = _last(brought) >= _last(there)
    newer, older = (brought, there) if is_newer else (there, brought)
    if _knows_all_of(newer, older, since):
        rows = {table: list(newer.get(table, ())) for table in TABLES if table != "note"}
        # What a number was given to stays: notes that are there hold it.
        rows["item"] = _both(newer, older, "item")
    else:
        rows = _put_together(newer, older)
    rows["student"] = _named(newer, brought, there)
    judged = BY_TABLE["take"]["judged_key"]
    of_brought = frozenset(
        row[0]
        for key, row in _by_entry(rows).items()
        if key in takes_brought
        and row[judged] == takes_brought[key][judged]
        and (key not in takes_there or takes_there[key][judged] != row[judged])
    )
    return MergedStudent(rows, numbers["take"], numbers["item"], of_brought)


def _knows_all_of(newer: Rows, older: Rows, since: date | None) -> bool:
    """Whether the newer side has every take of the other, or had it before it forgot it for its age: then it says of
    its passage that there were so many more.
    """
    at, known = BY_TABLE["take"], _by_entry(newer)
    lacks = [row for key, row in _by_entry(older).items() if key not in known]
    if not lacks:
        return True
    if since is None or any(row[at["day"]] >= since.isoformat() for row in lacks):
        return False
    forgotten = _forgotten(newer)
    return all(many <= forgotten[one] for one, many in Counter(row[at["passage"]] for row in lacks).items())


def _forgotten(side: Rows) -> Counter[int]:
    """Of how many takes of each passage a side has only the sums."""
    at = BY_TABLE["passage"]
    told = Counter({row[at["passage"]]: row[at["takes"]] for row in side.get("passage", ())})
    return told - Counter(row[BY_TABLE["take"]["passage"]] for row in side.get("take", ()))


def _numbers(there: Rows, brings: Rows) -> dict[str, dict[int, int]]:
    """By table, which number what is brought has there."""
    numbers: dict[str, dict[int, int]] = {}
    for table, natural in NUMBERED.items():
        places = [BY_TABLE[table][name] for name in natural]
        known = {tuple(row[at] for at in places): row[0] for row in there.get(table, ())}
        highest = max(known.values(), default=0)
        given: dict[int, int] = {}
        for row in brings.get(table, ()):
            key = tuple(
                numbers[name][row[at]] if name in NUMBERED else row[at]
                for name, at in zip(natural, places, strict=True)
            )
            if key not in known:
                highest += 1
                known[key] = highest
            given[row[0]] = known[key]
        numbers[table] = given
    return numbers


def _renumbered(brings: Rows, numbers: Mapping[str, Mapping[int, int]]) -> Rows:
    renumbered: Rows = {}
    for table, rows in brings.items():
        changed = [(at, numbers[name]) for name, at in BY_TABLE[table].items() if name in NUMBERED]
        made = []
        for row in rows:
            cells = list(row)
            for at, given in changed:
                cells[at] = given.get(cells[at], cells[at])
            made.append(tuple(cells))
        renumbered[table] = made
    return renumbered


def _as_judged(brought: Rows, there: Rows) -> Rows:
    """A take whose notes a class keeps no longer, for their age, is as it is judged there, where they are."""
    at, known = BY_TABLE["take"]["judged_key"], _by_entry(there)
    entry = BY_TABLE["take"]["entry_key"]
    takes = [
        row if row[at] or row[entry] not in known else (*row[:at], known[row[entry]][at], *row[at + 1 :])
        for row in brought.get("take", ())
    ]
    return {**brought, "take": takes}


def _put_together(newer: Rows, older: Rows) -> Rows:
    rows: Rows = {}
    for table in TABLES:
        if table == "note":
            continue
        of_both = table in _KEPT_OF_BOTH or any(name in NUMBERED for name in KEYS[table])
        rows[table] = _both(newer, older, table) if of_both else list(newer.get(table, ()))
    rows["take"] = _in_order(rows["take"])
    rows["mark"] = _earliest(newer, older, "mark", "day")
    rows["set_part"] = _earliest(newer, older, "set_part", "done_day")
    rows["day"] = _days(rows["take"])
    rows["passage"] = _passages(rows["passage"], rows["take"], newer, older)
    return rows


def _both(newer: Rows, older: Rows, table: str) -> list[Row]:
    """The rows of both, by what tells them apart, those of the newer before the other's."""
    places = [BY_TABLE[table][name] for name in KEYS[table]]
    found = {tuple(row[at] for at in places): row for side in (older, newer) for row in side.get(table, ())}
    return list(found.values())


def _earliest(newer: Rows, older: Rows, table: str, column: str) -> list[Row]:
    """The same, with the earlier of both days in a column: what was done once stays done."""
    places, at = [BY_TABLE[table][name] for name in KEYS[table]], BY_TABLE[table][column]
    days: defaultdict[Row, list[str]] = defaultdict(list)
    for side in (newer, older):
        for row in side.get(table, ()):
            if row[at] is not None:
                days[tuple(row[one] for one in places)].append(row[at])
    rows = _both(newer, older, table)
    return [(*row[:at], min(days[tuple(row[one] for one in places)], default=None), *row[at + 1 :]) for row in rows]


def _in_order(takes: Iterable[Row]) -> list[Row]:
    """All takes, each in its place among all."""
    columns = BY_TABLE["take"]
    at, moment, entry = columns["place"], columns["moment_us"], columns["entry_key"]
    ordered = sorted(takes, key=lambda row: (row[moment], row[entry]))
    return [(*row[:at], place, *row[at + 1 :]) for place, row in enumerate(ordered, start=1)]


def _days(takes: Iterable[Row]) -> list[Row]:
    """The sums of days, as `queries.summaries` makes them of takes."""
    columns = BY_TABLE["take"]
    days: defaultdict[str, dict[str, float]] = defaultdict(lambda: dict.fromkeys(_COUNTED, 0))
    for row in takes:
        told = {name: row[at] for name, at in columns.items()}
        day = days[told["day"]]
        day["takes"] += 1
        for name in ("minutes", "found", "found_s", "found_s2"):
            day[name] += told[name]
        if told["reading"]:
            day["read"] += told["notes"]
            day["clean"] += told["clean"]
            if told["tempo_bpm"] is not None:
                day["read_timed"] += told["notes"]
                day["clean_timed"] += told["clean"]
    return [tuple({"day": day, **sums}[name] for name in BY_TABLE["day"]) for day, sums in days.items()]


def _passages(rows: Iterable[Row], takes: Iterable[Row], newer: Rows, older: Rows) -> list[Row]:
    """Passages with what counts of all their takes."""
    columns, of_take = BY_TABLE["passage"], BY_TABLE["take"]
    played: defaultdict[int, list[dict[str, Any]]] = defaultdict(list)
    for row in takes:
        played[row[of_take["passage"]]].append({name: row[at] for name, at in of_take.items()})
    told = {side: {row[0]: row for row in rows.get("passage", ())} for side, rows in enumerate((newer, older))}
    forgotten = _forgotten(newer) | _forgotten(older)
    made = []
    for row in rows:
        cells = dict(zip(columns, row, strict=True))
        mine = played[cells["passage"]]
        timed = [take for take in mine if take["stage"] in ("time", "sight") and take["tempo_bpm"] is not None]
        cells |= {
            "takes": len(mine),
            "first_day": min((take["day"] for take in mine), default=cells["first_day"]),
            "last_day": max((take["day"] for take in mine), default=cells["last_day"]),
            "newest_bpm": timed[-1]["tempo_bpm"] if timed else None,
            "clean_bpm": max((take["tempo_bpm"] for take in timed if take["clean_in_time"]), default=None),
        }
        both = [side[cells["passage"]] for side in told.values() if cells["passage"] in side]
        if forgotten[cells["passage"]]:
            # Of what went for its age the sums stay, as the side says that knows most.
            newest = max(both, key=lambda one: one[columns["last_day"]])
            cells |= {
                "takes": max(cells["takes"], *(one[columns["takes"]] for one in both)),
                "first_day": min(cells["first_day"], *(one[columns["first_day"]] for one in both)),
                "newest_bpm": newest[columns["newest_bpm"]],
            }
        targets = [one[columns["target_bpm"]] for one in both if one[columns["target_bpm"]] is not None]
        read = [one[columns["read_day"]] for one in both if one[columns["read_day"]] is not None]
        cells |= {"target_bpm": next(iter(targets), None), "read_day": min(read, default=None)}
        made.append(tuple(cells.values()))
    return made


def _named(newer: Rows, brought: Rows, there: Rows) -> list[Row]:
    """What the student says they are called, by the newer side; what a list calls them, by who came last."""
    columns = BY_TABLE["student"]
    (student,) = newer.get("student") or brought["student"]
    cells = dict(zip(columns, student, strict=True))
    for side in (brought, there):
        for row in side.get("student", ()):
            cells["named"] = cells["named"] if side is there and cells["named"] else row[columns["named"]]
        if cells["named"]:
            break
    return [tuple(cells.values())]


def _by_entry(rows: Rows) -> dict[int, Row]:
    at = BY_TABLE["take"]["entry_key"]
    return {row[at]: row for row in rows.get("take", ())}


def _last(rows: Rows) -> tuple[int, int]:
    """When the last take was, and how many there are."""
    at, takes = BY_TABLE["take"]["moment_us"], rows.get("take", ())
    return max((row[at] for row in takes), default=0), len(takes)
