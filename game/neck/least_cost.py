"""The exact least of a sum of costs, each of one choice or of a pair of choices.

Options that can never be part of a least sum are left out first (dead-end elimination, by the criterion of Goldstein
1994, mem); what remains is divided into parts that share no pair, and each is searched by branch and bound, whose bound
counts every pair once at its least (as for weighted constraints, Larrosa and Meseguer 1999, mem).
"""

from collections.abc import Mapping, Sequence

Costs = Sequence[Sequence[float]]
"""What a pair of choices costs: a row for each option of the first, in it a number for each of the second."""


def least_choices(alone: Sequence[Sequence[float]], paired: Mapping[tuple[int, int], Costs]) -> tuple[int, ...]:
    """For each thing to choose, the option (by its index) with which all costs together are least.

    `alone` has a row for each thing to choose, with the cost of each of its options (one at least); `paired` has the
    costs of pairs of things (i, j), i < j. Of options that cost the same the first is taken wherever it can be.
    """
    problem = _Problem(alone, paired)
    problem.leave_out_dead_ends()
    chosen = [options[0] for options in problem.open]
    for part in problem.parts():
        for one, option in zip(part, _searched(problem, part), strict=True):
            chosen[one] = option
    return tuple(chosen)


class _Problem:
    """The costs both ways, and the options that are still open."""

    def __init__(self, alone: Sequence[Sequence[float]], paired: Mapping[tuple[int, int], Costs]) -> None:
        self.alone = [list(row) for row in alone]
        self.open = [list(range(len(row))) for row in alone]
        self.beside: list[dict[int, Costs]] = [{} for _ in alone]
        for (one, other), costs in paired.items():
            self.beside[one][other] = costs
            self.beside[other][one] = tuple(zip(*costs, strict=True))

    def leave_out_dead_ends(self) -> None:
        """Leave out each option beside which another is as good or better, whatever else is chosen."""
        waiting = list(range(len(self.alone)))
        while waiting:
            one = waiting.pop()
            left = len(self.open[one])
            for option in reversed(self.open[one][:]):
                if any(self._never_worse(one, other, option) for other in self.open[one] if other != option):
                    self.open[one].remove(option)
            if len(self.open[one]) < left:
                waiting += [other for other in self.beside[one] if other not in waiting]

    def _never_worse(self, one: int, option: int, than: int) -> bool:
        worse = self.alone[one][option] - self.alone[one][than]
        for other, costs in self.beside[one].items():
            with_option, with_other = costs[option], costs[than]
            worse += max(with_option[third] - with_other[third] for third in self.open[other])
        return worse <= 0

    def parts(self) -> list[list[int]]:
        """The things still to choose, divided so that no pair lies between two parts. What is settled is counted in."""
        unsettled = {one for one, options in enumerate(self.open) if len(options) > 1}
        for one in unsettled:
            for other, costs in self.beside[one].items():
                if other not in unsettled:
                    settled = self.open[other][0]
                    self.alone[one] = [cost + row[settled] for cost, row in zip(self.alone[one], costs, strict=True)]
        parts = []
        while unsettled:
            part, waiting = [], [min(unsettled)]
            unsettled.remove(waiting[0])
            while waiting:
                part.append(waiting.pop())
                near = sorted(unsettled & self.beside[part[-1]].keys())
                waiting += near
                unsettled -= set(near)
            parts.append(part)
        return parts


def _searched(problem: _Problem, part: Sequence[int]) -> list[int]:
    """Branch and bound over the things of one part, those with most at stake first."""
    order = sorted(part, key=lambda one: (-_at_stake(problem, one, part), one))
    rank = {one: at for at, one in enumerate(order)}
    # For each thing and option: its pairs with those that come later, at their least.
    ahead = {
        one: {
            option: sum(
                min(costs[option][third] for third in problem.open[other])
                for other, costs in problem.beside[one].items()
                if rank.get(other, -1) > rank[one]
            )
            for option in problem.open[one]
        }
        for one in order
    }
    later = {one: [other for other in problem.beside[one] if rank.get(other, -1) > rank[one]] for one in order}
    best_cost, best = _settled_one_by_one(problem, order)

    def descend(at: int, cost: float, sums: dict[int, dict[int, float]], chosen: list[int]) -> None:
        nonlocal best_cost, best
        if at == len(order):
            if cost < best_cost:
                best_cost, best = cost, chosen[:]
            return
        one = order[at]
        bound_of_rest = sum(
            min(total + ahead[other][option] for option, total in sums[other].items()) for other in order[at + 1 :]
        )
        for option, total in sorted(sums[one].items(), key=lambda pair: pair[1] + ahead[one][pair[0]]):
            if cost + total + ahead[one][option] + bound_of_rest >= best_cost:
                return
            further = dict(sums)
            for other in later[one]:
                costs = problem.beside[one][other][option]
                further[other] = {third: known + costs[third] for third, known in sums[other].items()}
            chosen.append(option)
            descend(at + 1, cost + total, further, chosen)
            chosen.pop()

    descend(0, 0.0, {one: {option: problem.alone[one][option] for option in problem.open[one]} for one in order}, [])
    by_thing = dict(zip(order, best, strict=True))
    return [by_thing[one] for one in part]


def _at_stake(problem: _Problem, one: int, part: Sequence[int]) -> float:
    """How much the pairs of a thing can differ: what is settled early ought to decide much."""
    inside = set(part)
    return sum(
        max(map(max, costs)) - min(map(min, costs)) for other, costs in problem.beside[one].items() if other in inside
    )


def _settled_one_by_one(problem: _Problem, order: Sequence[int]) -> tuple[float, list[int]]:
    """A good choice to begin with: each thing at its best beside the others, until none changes."""
    chosen = {one: min(problem.open[one], key=lambda option: problem.alone[one][option]) for one in order}

    def cost_of(one: int, option: int) -> float:
        beside = problem.beside[one].items()
        return problem.alone[one][option] + sum(
            costs[option][chosen[other]] for other, costs in beside if other in chosen
        )

    changed = True
    while changed:
        changed = False
        for one in order:
            better = min(problem.open[one], key=lambda option: cost_of(one, option))
            if cost_of(one, better) < cost_of(one, chosen[one]):
                chosen[one], changed = better, True
    total = sum(problem.alone[one][chosen[one]] for one in order)
    total += sum(
        costs[chosen[one]][chosen[other]]
        for one in order
        for other, costs in problem.beside[one].items()
        if other in chosen and one < other
    )
    return total, [chosen[one] for one in order]
