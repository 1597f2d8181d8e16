"""How many are alive on a day: a death, a sale, a fox; what follows shrinks with them."""

from collections.abc import Sequence

from app.errors import OutOfRange


def alive_on(head: int, losses: Sequence[tuple[int, int]], day: int) -> int:
    """Head at the end of a day, after ``losses`` of (day, how many); a gain is a negative loss.

    Valid: never more lost than there are, on any day. Source: counting.
    Raises: OutOfRange when more are lost than there were.
    """
    left = head
    for when, lost in sorted(losses):
        if when > day:
            break
        if lost > left:
            raise OutOfRange("Animals lost", lost, f"up to the {left} that were there")
        left -= lost
    return left


def head_by_day(head: int, losses: Sequence[tuple[int, int]], first: int, last: int) -> list[int]:
    """`alive_on` for every day from ``first`` to ``last``, in order.

    Valid and raises: as `alive_on`; no days when the last lies before the first. Source: counting.
    """
    gone: dict[int, int] = {}
    for when, lost in losses:
        gone[when] = gone.get(when, 0) + lost
    left = alive_on(head, losses, first - 1)
    found = []
    for day in range(first, last + 1):
        lost = gone.get(day, 0)
        if lost > left:
            raise OutOfRange("Animals lost", lost, f"up to the {left} that were there")
        left -= lost
        found.append(left)
    return found
