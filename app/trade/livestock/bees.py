"""Bees: queens and brood by day, when the hive is opened next, what it must have in store, honey fit to take."""

from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

SEALED_DAY = 8
"""A queen cell is sealed eight days after the egg: three as egg, five as larva; the swarm goes about then.
Source: British Beekeepers Association module 1, by flashcards."""
QUEEN_DAYS, WORKER_DAYS, DRONE_DAYS = 16, 21, 24
"""Egg to bee. Source: from memory, standard texts."""
WANTED_STORES_KG = 19.0
"""18 to 20 kg for the winter. Source: common practice."""
SUGAR_TO_STORES = 1.25
"""A kilo of sugar, fed as syrup two to one, is stored as about 1.25 kg. Source: common practice."""
MOST_WATER, MOST_WATER_HEATHER = 20.0, 23.0
"""Source: Honey (England) Regulations 2003, schedule 2, item 2; the same figures in SI 2015/1348, from memory."""
LEAST_CAPPED = 80.0


class Queen(NamedTuple):
    """Day numbers: the cell sealed, the queen out, mated between two days, eggs looked for no sooner than another."""

    sealed: int
    emerges: int
    mates: tuple[int, int]
    look: int


def queen_from_egg(laid: int) -> Queen:
    """A queen's days from an egg laid on a day: sealed on day 8, out on day 16, mated 5 to 7 days later.

    The hive stays shut for about three weeks after she is out. Source: standard texts, from memory.
    """
    out = laid + QUEEN_DAYS
    return Queen(laid + SEALED_DAY, out, (out + 5, out + 7), out + 21)


def emerges(laid: int, caste: str) -> int:
    """The day a bee comes out of its cell: queen 16, worker 21, drone 24 days after the egg.

    Valid: the three. Source: standard texts, from memory. Raises: KeyError for another word.
    """
    return laid + {"queen": QUEEN_DAYS, "worker": WORKER_DAYS, "drone": DRONE_DAYS}[caste]


def after_split(split: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """A queenless split with eggs of three days or less: between which days a queen is out, and eggs are then sought.

    Source: t+13 to t+16 from the queen's 16 days; t+28 to t+35 common practice.
    """
    return (split + QUEEN_DAYS - 3, split + QUEEN_DAYS), (split + 28, split + 35)


@work
def inspection_days(clipped: bool) -> Reckoned:
    """Days to the next opening in swarm time: 7, or 10 where the queen's wing is clipped.

    A cell is sealed on the eighth day and the swarm goes: never longer than 7 with a whole queen.
    Source: from memory, standard texts.
    """
    if clipped:
        return days(10, "her wing is clipped: ten days")
    return days(SEALED_DAY - 1, "a cell is sealed on the eighth day, and the swarm goes")


def sugar_kg(stores_kg: float, wanted_kg: float = WANTED_STORES_KG) -> float:
    """Sugar to feed as heavy syrup (two to one by weight) for the stores that are missing.

    Valid: 0 kg and more. Source: common practice. Raises: OutOfRange below that.
    """
    if stores_kg < 0 or wanted_kg < 0:
        raise OutOfRange("Stores in kg", min(stores_kg, wanted_kg), "0 and more")
    return max(0.0, wanted_kg - stores_kg) / SUGAR_TO_STORES


def honey_fit(water_percent: float, capped_percent: float, heather: bool = False) -> bool:
    """Whether honey may be taken: at most 20 % water (heather 23), and four fifths of the comb capped.

    Aim for 18 %. Valid: percentages. Source: Honey (England) Regulations 2003; capping is common practice.
    Raises: OutOfRange beyond 0 to 100.
    """
    for name, percent in (("Water in %", water_percent), ("Capped in %", capped_percent)):
        if not 0 <= percent <= 100:
            raise OutOfRange(name, percent, "0 to 100")
    return water_percent <= (MOST_WATER_HEATHER if heather else MOST_WATER) and capped_percent >= LEAST_CAPPED


def honey_kg(colonies: int, year: str = "usual") -> float:
    """Honey to expect: 11 kg a colony in a usual year, none in a poor one, 25 in a good one.

    Valid: 0 colonies and more; poor, usual, good. Source: from memory, yearly surveys of British beekeepers; it varies
    more than anything else on a holding. Raises: OutOfRange below 0, KeyError for another word.
    """
    if colonies < 0:
        raise OutOfRange("Colonies", colonies, "0 and more")
    return colonies * {"poor": 0.0, "usual": 11.0, "good": 25.0}[year]


def treatments_a_season(brood_months: float) -> int:
    """How often nine mites in ten must be killed in a season: once for six months of brood and fewer, twice to ten,
    then three times. Which, when and how stands on its label.

    Valid: 0 to 12. Source: R. Oliver, The varroa problem, part 15. Raises: OutOfRange beyond that.
    """
    if not 0 <= brood_months <= 12:
        raise OutOfRange("Months with brood", brood_months, "0 to 12")
    return 1 if brood_months <= 6 else 2 if brood_months <= 10 else 3
