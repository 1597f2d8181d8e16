"""Invented sheets to read and to spoil, and the computations they name; they say nothing about the trade."""

from collections.abc import Sequence
from typing import Literal

from app.sheets.values import Known


def days_in_cure(thickness_mm: float, skin: bool = False) -> int:
    return round(thickness_mm / 5) + 2 * skin


def days_to_weight(kg: float, target_kg: float, weighed: Sequence[tuple[int, float]] = ()) -> int:
    return round((target_kg - kg) / 0.7)


def days_to_next_coat(
    exposure: Literal["sheltered", "severe"], found: Sequence[tuple[int, str]], season: object, on: int
) -> int:
    return 3000 if exposure == "sheltered" else 1800


WORKS = {one.__name__: one for one in (days_in_cure, days_to_weight, days_to_next_coat)}
KNOWN = Known(works=WORKS)

TOMATO = """
sheet = "tomato"
title = "Tomato"
trade = "garden"
kind = "sowing"
[facts]
date = { asks = "date" }
row_m = { asks = "m", label = "Row", else = 9, low = 0.1, high = 500 }
[[step]]
id = "sow"
title = "Sow"
source = "common practice"
from = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "-P8W" }
opens = "-P2W"
closes = "P4W"
missed = "lost"
minutes = { base = 10, each = 0.5, per = "row_m" }
[[step]]
id = "plant"
title = "Plant out"
source = "common practice"
act = "plant"
from = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "P2W" }
after = [{ step = "sow", by = "P6W" }, { step = "harden", by = "P10D" }]
closes = { mark = "first frost", chance = 10, since = { entry = "date", by = "P5M" }, by = "-P12W" }
missed = "lost"
[[step]]
id = "harden"
title = "Harden off"
source = "common practice"
from = { step = "plant", by = "-P2W" }
closes = "P4D"
[[step]]
id = "pick"
title = "Pick"
source = "common practice"
from = { step = "plant", by = "P9W" }
again = { every = "P3D", until = { mark = "first frost", chance = 50, since = { step = "plant" } }, stop = "over" }
asks = { kg = "kg", over = "yes or no" }
missed = "passes"
makes = [{ lot = "tomatoes", amount = "pick.kg", unit = "kg", keeps = "P1W", where = "shelf" }]
[[bar]]
id = "bed"
kind = "room"
on = "place"
acts = ["plant"]
from = { step = "plant" }
to = { step = "pick", which = "last" }
says = "The bed is taken."
source = "common practice"
"""

WALL = """
sheet = "wall"
title = "A rendered wall"
trade = "upkeep"
kind = "wall"
[facts]
date = { asks = "date" }
last_painted = { asks = "date" }
exposure = { asks = ["sheltered", "severe"], else = "severe" }
[[step]]
id = "look"
title = "Look it over"
source = "common practice"
from = { day = "--04-10", since = { entry = "last_painted", by = "P6M" } }
again = "yearly"
asks = { found = ["sound", "chalking", "hollow"] }
[[step]]
id = "paint"
title = "Paint"
source = { memory = "a maker's data sheet" }
within = "painting"
missed = "wait"
[step.again]
every = { work = "days_to_next_coat", given = { exposure = "entry.exposure", found = { all = "look.found" } } }
last = { entry = "last_painted" }
counts = ["coat2"]
[[step]]
id = "patch"
title = "Patch"
source = "common practice"
when = { "look.found" = ["hollow"], else = false }
from = { step = "look", by = "P2W" }
within = "painting"
missed = "wait"
[[step]]
id = "coat2"
title = "Top coat"
source = "common practice"
from = { step = "patch", by = "P29D" }
after = [{ step = "patch", by = "P29D" }]
within = "painting"
missed = "wait"
[[spell]]
id = "painting"
from = { day = "--04-01" }
to = { day = "--09-30" }
whole = ["patch", "coat2"]
"""

WEANERS = """
sheet = "weaners"
title = "Weaners"
trade = "livestock"
kind = "pen"
species = "pig"
[facts]
date = { asks = "date" }
kg = { asks = "kg" }
[[step]]
id = "weigh"
title = "Weigh"
source = "common practice"
from = { entry = "date", by = "P4W" }
again = { every = "P4W", until = { step = "kill", by = "-P1W" } }
asks = { kg = "kg" }
missed = "passes"
[[step]]
id = "worm"
title = "Worm"
source = "common practice"
from = { entry = "date", by = "P2W" }
asks = { withdrawal_days = "d" }
[[step]]
id = "book"
title = "Book the abattoir"
source = "common practice"
from = { step = "kill", by = "-P8W" }
asks = { day = "date" }
[[step]]
id = "kill"
title = "Take to the abattoir"
source = "common practice"
act = "slaughter"
appointment = "the abattoir"
asks = { carcase_kg = "kg" }
makes = [{ entry = "pork", sheet = "pork", facts = { kg = "kill.carcase_kg" }, else = { kg = 60 } }]
[step.from]
said = "book.day"
[step.from.else]
work = "days_to_weight"
given = { kg = "entry.kg", target_kg = { value = 90 }, weighed = { all = "weigh.kg" } }
since = { entry = "date" }
[[bar]]
id = "standstill"
kind = "law"
on = "holding"
acts = ["move off"]
species = ["pig"]
from = { entry = "date" }
to = { entry = "date", by = "P20D" }
says = "Standing still."
nations = ["england"]
source = "common practice"
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "worm" }
to = { tick = "worm", days = "worm.withdrawal_days" }
says = "Inside the withdrawal period."
source = "common practice"
"""

CURE = """
sheet = "pork"
title = "Pork"
trade = "meat"
kind = "delivery"
[facts]
date = { asks = "date" }
kg = { asks = "kg" }
thickness_mm = { asks = "mm", else = 40 }
[[step]]
id = "cure"
title = "Cure"
source = "common practice"
from = { work = "days_in_cure", given = { thickness_mm = "entry.thickness_mm" } }
timed = { starts = "18:00", hours = 24, look_every_hours = 8 }
needs = { people = 2, below_c = 8 }
uses = [{ what = "salt", amount = 30, unit = "g", per = "kg" }]
"""

SKIRRET = """
sheet = "skirret"
title = "Skirret"
trade = "garden"
kind = "sowing"
[facts]
date = { asks = "date" }
row_m = { asks = "m", label = "Row of {crop.many}", else = 5 }
[crop]
name = "skirret"
many = "skirrets"
rotation = "roots"
life = "perennial"
frost = "hardy"
source = "common practice"
sprouting = { least_c = 4, most_c = 30, days_10c = 27, base_c = -0.1, theta_cday = 282, source = "common practice" }
growth = { low_days = 120, high_days = 200, source = { memory = "a handbook" } }
spacing = { plant_cm = 25, row_cm = 30, source = "common practice" }
sowing = { seeds_a_gram = 430, seeds_each = 3, open_from_weeks = -8, open_to_weeks = 4, source = "common practice" }
keeping = { years = 2.5, source = "common practice" }
ripeness = { cue = "brown", cleaning = "dry", source = "common practice" }
water = { kc_mid = 1.05, stages_days = [25, 30, 40, 20], source = "common practice" }
[[step]]
id = "sow"
title = "Sow {crop.many} {crop.spacing.plant_cm} cm apart"
source = "common practice"
from = { entry = "date" }
opens = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "crop.sowing.open_from_weeks" }
uses = [{ what = "{crop.name} seed", amount = "crop.sowing.grams_a_m", unit = "g", per = "row_m" }]
[[step]]
id = "up"
title = "Look for seedlings"
source = "common practice"
from = { warmth = "crop.sprouting.theta_cday", base = "crop.sprouting.base_c", since = { step = "sow" } }
[[step]]
id = "lift"
title = "Lift"
source = "common practice"
from = { step = "sow", by = "crop.growth.low_days" }
closes = "P4W"
asks = { g = "g" }
makes = [{ seed = "{crop.name} seed", amount = "lift.g", unit = "g", keeps = "crop.keeping.years" }]
"""
