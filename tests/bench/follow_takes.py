"""What the bench of following plays: the cells of each row."""

from dataclasses import replace
from random import Random

from tests.judging.players.beginners import BEGINNERS
from tests.judging.players.cells import ALONE, MATERIALS, Cell, lines
from tests.judging.players.faults import SINGLE_FAULTS, strewn
from tests.judging.players.hands import HANDS, Hands
from tests.judging.players.material import Material
from tests.judging.players.performed import Step
from tests.judging.players.pulses import PULSES, drift
from tests.judging.players.scripts import JUMPS

DRIFTS = ("drift +3 %", "drift -3 %", "drift 1-3 %", "rubato 8 %")
CURVES = tuple(name for name in PULSES if name not in (*DRIFTS, "steady"))
RHYTHMS = ("eighths", "sixteenths", "triplets", "ties", "mixed")
PLAIN = ("walking", "scales", "tunes", "fresh lines")
_ANY = ("walking", "scales")


def alone(_rng: Random) -> Hands:
    return ALONE


def drifting() -> list[Cell]:
    """Every pitch right: drift and rubato, by rhythm and length."""
    return [
        Cell(
            name=f"{pulse}, {rhythm}, {bars} bars", material=lines(_ANY, rhythm, bars), pulse=PULSES[pulse], hands=alone
        )
        for pulse in DRIFTS
        for rhythm in RHYTHMS
        for bars in (4, 8, 16, 32)
    ]


def curves() -> list[Cell]:
    """Every pitch right: tempo as in performances, on lines of every kind."""
    return [
        Cell(name=f"{pulse}, {name}", material=MATERIALS[name], pulse=PULSES[pulse], hands=alone)
        for pulse in CURVES
        for name in MATERIALS
    ]


def tapping() -> list[Cell]:
    """Every pitch right: hands as in the literature on tapping, steady and drifting."""
    return [
        Cell(name=f"{hands}, {pulse}, {name}", material=MATERIALS[name], pulse=PULSES[pulse], hands=HANDS[hands])
        for hands in HANDS
        for pulse in ("steady", "drift 1-3 %")
        for name in ("walking", "ostinato", "repeated", "tunes", "fresh lines")
    ]


def at_fault(names: tuple[str, ...]) -> list[Cell]:
    """Drift and rubato with 5 % of faults on top."""
    return [
        Cell(
            name=f"{pulse} and faults, {name}, {bars} bars",
            material=lines(name, ("eighths", "mixed"), bars)
            if name not in ("tunes", "fresh lines")
            else MATERIALS[name],
            pulse=PULSES[pulse],
            hands=alone,
            faults=0.05 / 3,
        )
        for pulse in DRIFTS
        for name in names
        for bars in (8, 32)
    ]


def at_much_fault(names: tuple[str, ...]) -> list[Cell]:
    """Drift and rubato with 5 % each of dropped, wrong and added."""
    return [
        Cell(
            name=f"{pulse} and 5 % each, {name}",
            material=MATERIALS[name],
            pulse=PULSES[pulse],
            hands=alone,
            faults=0.05,
        )
        for pulse in ("steady", *DRIFTS)
        for name in names
    ]


def single_faults(pulse: str) -> list[Cell]:
    """One fault of a kind now and then."""
    return [
        Cell(
            name=f"{fault}, {pulse}, {name}",
            material=MATERIALS[name],
            pulse=PULSES[pulse],
            hands=HANDS["sure"] if pulse == "steady" else alone,
            change=_strew(fault),
        )
        for fault in SINGLE_FAULTS
        for name in ("walking", "scales", "tunes", "fresh lines", "ostinato")
    ]


def _strew(fault: str):
    def change(_script: list[Step], material: Material, rng: Random) -> list[Step]:
        return strewn(material, SINGLE_FAULTS[fault], rng)

    return change


def jumping(jump: str, pulse: str, names: tuple[str, ...] = PLAIN, faults: float = 0.0) -> list[Cell]:
    """One jump a take."""
    return [
        Cell(
            name=f"{jump}, {pulse}, {name}" + (" and faults" if faults else ""),
            material=MATERIALS[name],
            course=JUMPS[jump],
            pulse=PULSES[pulse],
            hands=HANDS["sure"] if pulse == "steady" else alone,
            faults=faults,
        )
        for name in names
    ]


def out_of_time(course: str) -> list[Cell]:
    """One jump a take, a fifth of the notes clearly early or late."""
    return [
        Cell(name=f"early and late, {course}, {name}", material=MATERIALS[name], course=JUMPS[course], change=_aside)
        for name in PLAIN
    ]


def _aside(script: list[Step], material: Material, rng: Random) -> list[Step]:
    grid = material.grid
    changed = list(script)
    for at, step in enumerate(script):
        if rng.random() >= 0.2 or step.event is not None or step.sounding is None:
            continue
        width_s = grid.late_s[step.index]
        gap_s = (
            grid.onsets_s[step.index + 1] - grid.onsets_s[step.index] if step.index + 1 < len(grid.onsets_s) else 1.0
        )
        most_s = min(1.9 * width_s, 0.8 * gap_s)
        if most_s > 1.25 * width_s:
            changed[at] = replace(step, aside_s=rng.choice((-1, 1)) * rng.uniform(1.25 * width_s, most_s))
    return changed


def beginning() -> list[Cell]:
    """Takes full of trouble, by their own pulse; and those who leave the click's tempo altogether."""
    cells = [
        Cell(
            name=f"{name}, {pulse}, {music}", material=MATERIALS[music], course=course, pulse=PULSES[pulse], hands=hands
        )
        for name, course in BEGINNERS.items()
        for pulse, hands in (("steady", HANDS["follows the click"]), ("walk 6 %", HANDS["by themselves"]))
        for music in ("walking", "tunes", "fresh lines")
    ]
    return cells + [
        Cell(name=f"{share:+.0%} of the click, {music}", material=MATERIALS[music], pulse=drift(share), hands=alone)
        for share in (-0.3, -0.15, -0.08, 0.08, 0.15, 0.4, 1.0)
        for music in ("walking", "tunes", "fresh lines", "ostinato")
    ]


def rhythms_alone() -> list[Cell]:
    """For the stage where any pitch will do: repeats, stops, drift, notes missed and too many."""
    kinds = ("mixed", "dotted", "rests", "ties")
    material = lines(("walking", "repeated"), kinds, 8)
    cells = [
        Cell(name=f"rhythm, {pulse}", material=material, pulse=PULSES[pulse], hands=alone)
        for pulse in ("steady", *DRIFTS, "walk 6 %")
    ]
    cells += [
        Cell(name=f"rhythm, {pulse} and faults", material=material, pulse=PULSES[pulse], hands=alone, faults=0.05 / 3)
        for pulse in ("steady", "drift 1-3 %")
    ]
    return cells + [
        Cell(name=f"rhythm, {jump}, {pulse}", material=material, course=JUMPS[jump], pulse=PULSES[pulse], hands=alone)
        for jump in ("back a bar", "from the top", "stop on the beat", "stop off the beat", "one beat behind")
        for pulse in ("steady", "drift 1-3 %")
    ]


def in_free_time() -> list[Cell]:
    """For takes without a click: pulses, repeats and stops."""
    cells = [
        Cell(name=f"free, {pulse}, {name}", material=MATERIALS[name], pulse=PULSES[pulse], hands=alone)
        for pulse in ("steady", "rubato 8 %", "walk 6 %", "arches 8 %")
        for name in PLAIN
    ]
    return cells + [
        Cell(name=f"free, {jump}, {name}", material=MATERIALS[name], course=JUMPS[jump], hands=alone)
        for jump in ("back a bar", "from the top", "stop off the beat", "two seconds", "skipped bar", "repaired")
        for name in PLAIN
    ]


def played_live(kind: str) -> list[Cell]:
    """For live verdicts: faults, repeated pitches, jumps."""
    if kind == "faults":
        return _at_fault_live((*PLAIN, "ostinato"))
    if kind == "repeated pitches":
        return _at_fault_live(("repeated",))
    jumps = ("skipped bar", "one beat behind", "back a bar", "from the top", "stop off the beat", "stop on the beat")
    return [cell for jump in jumps for pulse in ("steady", "drift 1-3 %") for cell in jumping(jump, pulse)]


def _at_fault_live(names: tuple[str, ...]) -> list[Cell]:
    return [
        Cell(
            name=f"live, faults, {pulse}, {name}",
            material=MATERIALS[name],
            pulse=PULSES[pulse],
            hands=alone,
            faults=0.05 / 3,
        )
        for pulse in ("steady", "drift 1-3 %")
        for name in names
    ]
