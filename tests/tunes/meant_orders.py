"""Pages of which it is known how they are meant, written as MusicXML with the habits of notation programs.

A page is made of blocks: plain bars, bars that are repeated, bars with endings; at the end perhaps a jump back. Its
order of play follows from the blocks alone. The same blocks are then written down in one of the ways that programs have
(closed brackets, brackets over one bar, none that close, numbered from 2 or alike, opening signs at the bar line
before, endings without their sign, a last ending without its bracket), none of which changes how they are meant.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.tunes.hand_written import barline, words

CLOSED, OVER_ONE_BAR, UNCLOSED = "closed", "over one bar", "unclosed"
AS_MEANT, FROM_TWO, ALIKE = "as meant", "from two", "alike"


@dataclass(frozen=True, kw_only=True)
class Habits:
    """How a program writes: its brackets, their numbers, how the last one ends, where an opening sign stands."""

    brackets: str = CLOSED
    numbers: str = AS_MEANT
    last_ends: str = "stop"
    last_bracket: bool = True
    opens_at_right: bool = False
    signs_first_ending: bool = True


@dataclass(frozen=True, kw_only=True)
class Block:
    """`common` bars, then endings of these lengths, each played at so many times through; `times` without endings."""

    common: int
    endings: tuple[int, ...] = ()
    each: tuple[int, ...] = ()
    times: int = 1

    @property
    def bars(self) -> int:
        return self.common + sum(self.endings)


@dataclass
class _Page:
    left: list[str] = field(default_factory=list)
    before: list[str] = field(default_factory=list)
    behind: list[str] = field(default_factory=list)
    right: list[str] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class MeantPage:
    """What stands at the left bar line of each bar, before and behind its notes and at its right bar line; and the
    order that is meant, by bars from 0.
    """

    left: tuple[str, ...]
    before: tuple[str, ...]
    behind: tuple[str, ...]
    right: tuple[str, ...]
    order: tuple[int, ...]

    def bars(self, music: Sequence[str]) -> list[str]:
        """The content of each bar, `music` being its notes."""
        return [
            (barline(left, "left") if left else "") + before + notes + behind + (barline(right) if right else "")
            for left, before, notes, behind, right in zip(
                self.left, self.before, music, self.behind, self.right, strict=True
            )
        ]


def any_habits(rng: random.Random) -> Habits:
    numbers = rng.choice((AS_MEANT, AS_MEANT, FROM_TWO, ALIKE))
    last_bracket = rng.random() < 0.85 or numbers == ALIKE
    return Habits(
        brackets=rng.choice((CLOSED, CLOSED, OVER_ONE_BAR, OVER_ONE_BAR, UNCLOSED)),
        numbers=numbers,
        last_ends=rng.choice(("stop", "discontinue", "")),
        last_bracket=last_bracket,
        opens_at_right=rng.random() < 0.2,
        # Without its sign only the bracket behind it, and its number, tell that the player goes back.
        signs_first_ending=numbers == ALIKE or not last_bracket or rng.random() < 0.85,
    )


def any_page(rng: random.Random, habits: Habits) -> MeantPage:
    """A page of one to four blocks, half of them with a jump at the end."""
    blocks = [_any_block(rng, habits) for _ in range(rng.randint(1, 4))]
    jump = rng.choice(("", "", "fine", "coda"))
    if jump == "coda":
        blocks = [Block(common=rng.randint(1, 3)), *blocks, Block(common=rng.randint(1, 3))]
    if jump == "fine" and len(blocks) < 2:
        blocks.append(Block(common=2))
    return _written(blocks, habits, jump, rng)


def _any_block(rng: random.Random, habits: Habits) -> Block:
    common = rng.randint(1, 6)
    kind = rng.choice(("plain", "repeat", "endings", "endings", "endings"))
    if kind == "plain":
        return Block(common=common)
    if kind == "repeat":
        return Block(common=common, times=rng.choice((2, 2, 2, 3)))
    count = 2 if not habits.last_bracket or not habits.signs_first_ending else rng.choice((2, 2, 2, 3))
    each = (rng.choice((1, 1, 2)), *([1] * (count - 1))) if habits.numbers != ALIKE else (1,) * count
    return Block(common=common, endings=tuple(rng.randint(1, 4) for _ in range(count)), each=each)


def _written(blocks: Sequence[Block], habits: Habits, jump: str, rng: random.Random) -> MeantPage:
    page, starts, at = _Page(), [], 0
    for block in blocks:
        starts.append(at)
        _write_block(page, block, at, habits, first=at == 0)
        at += block.bars
    placed = list(zip(starts, blocks, strict=True))
    order = [bar for start, block in placed for bar in _played(start, block)]
    again = [bar for start, block in placed for bar in _played(start, block, once=True)]
    if jump == "fine":
        fine = starts[-1] - 1
        page.behind[fine] += words("Fine")
        page.behind[-1] += words("D.C. al Fine")
        order += again[: again.index(fine) + 1]
    elif jump == "coda":
        segno, coda = starts[1], starts[-1]
        back = again[again.index(segno) : again.index(coda)]
        back = back[: rng.randint(1, len(back))]
        page.before[segno] = words("Segno")
        page.behind[back[-1]] += words("To Coda")
        page.behind[coda - 1] += words("D.S. al Coda")
        page.before[coda] = words("Coda")
        order = [*order[: order.index(coda)], *back, *range(coda, at)]
    return MeantPage(
        left=tuple(page.left),
        before=tuple(page.before),
        behind=tuple(page.behind),
        right=tuple(page.right),
        order=tuple(order),
    )


def _played(start: int, block: Block, *, once: bool = False) -> list[int]:
    common = list(range(start, start + block.common))
    if not block.endings:
        return common * (1 if once else block.times)
    order, at = [], start + block.common
    for length, each in zip(block.endings, block.each, strict=True):
        ending = list(range(at, at + length))
        order += (common + ending) * each
        at += length
    return common + list(range(at - block.endings[-1], at)) if once else order


def _write_block(page: _Page, block: Block, at: int, habits: Habits, *, first: bool) -> None:
    for side in (page.left, page.before, page.behind, page.right):
        side.extend([""] * block.bars)
    if (block.endings or block.times > 1) and not first:
        sign = '<repeat direction="forward"/>'
        if habits.opens_at_right and not page.right[at - 1]:
            page.right[at - 1] = sign
        else:
            page.left[at] += sign
    if block.times > 1:
        times = f' times="{block.times}"' if block.times > 2 else ""
        page.right[at + block.bars - 1] += f'<repeat direction="backward"{times}/>'
    begins, number = at + block.common, 0
    for index, (length, each) in enumerate(zip(block.endings, block.each, strict=True)):
        numbers = range(number + 1, number + each + 1)
        number += each
        _write_ending(page, begins, length, numbers, habits, index, last=index + 1 == len(block.endings))
        begins += length


def _write_ending(
    page: _Page, begins: int, length: int, numbers: range, habits: Habits, index: int, *, last: bool
) -> None:
    told = [number + (habits.numbers == FROM_TWO) for number in numbers] if habits.numbers != ALIKE else [1]
    number = ", ".join(str(one) for one in told)
    over, ends = begins + length - 1, habits.last_ends if last else "stop"
    if not last or habits.last_bracket:
        page.left[begins] = f'<ending number="{number}" type="start"/>' + page.left[begins]
        stops = begins if habits.brackets == OVER_ONE_BAR else over
        if ends and (habits.brackets != UNCLOSED or last):
            page.right[stops] = f'<ending number="{number}" type="{ends}"/>' + page.right[stops]
    if not last and (habits.signs_first_ending or index > 0):
        page.right[over] += '<repeat direction="backward"/>'
