"""Sheets of the rules' tests: short ones in the trade's words, every figure made up for the test it serves."""

from tests.rules.kit import sheet_from

TOMATO = sheet_from("""
sheet = "tomato"
title = "Tomato"
trade = "garden"
kind = "sowing"
about = "Reckoned back from frost."
[facts]
date = { asks = "date" }
[[step]]
id = "sow"
title = "Sow"
from = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "-P8W" }
opens = "-P2W"
closes = "P4W"
missed = "lost"
source = "common practice"
[[step]]
id = "plant"
title = "Plant out"
act = "plant"
from = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "P2W" }
after = [{ step = "sow", by = "P6W" }, { step = "harden", by = "P10D" }]
closes = { mark = "first frost", chance = 10, since = { entry = "date", by = "P5M" }, by = "-P12W" }
missed = "lost"
source = "common practice"
[[step]]
id = "harden"
title = "Harden off"
from = { step = "plant", by = "-P2W" }
closes = "P4D"
source = "common practice"
[[step]]
id = "pick"
title = "Pick"
from = { step = "plant", by = "P9W" }
again = { every = "P3D", until = { mark = "first frost", chance = 50, since = { step = "plant" } }, stop = "over" }
asks = { kg = "kg", over = "yes or no" }
missed = "passes"
source = "common practice"
""")

PIGS = sheet_from("""
sheet = "pigs"
title = "Weaners"
trade = "livestock"
kind = "pen"
about = "Growth, standstill, withdrawal."
species = "pig"
[facts]
date = { asks = "date" }
[[step]]
id = "worm"
title = "Worm"
from = { entry = "date", by = "P2W" }
asks = { withdrawal_days = { asks = "d", optional = true } }
again = { every = "P8W", until = { entry = "date", by = "P20W" } }
source = "common practice"
[[step]]
id = "kill"
title = "To the abattoir"
act = "slaughter"
from = { entry = "date", by = "P17W" }
opens = "-P1W"
closes = "P3W"
source = "common practice"
[[step]]
id = "move"
title = "Move to the wood"
act = "move off"
from = { entry = "date", by = "P10D" }
opens = "-P3D"
closes = "P1W"
source = "common practice"
[[bar]]
id = "standstill"
kind = "law"
on = "holding"
acts = ["move off"]
species = ["pig"]
from = { entry = "date" }
to = { entry = "date", by = "P20D" }
says = "Standstill."
source = "common practice"
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter", "eat", "sell"]
from = { tick = "worm" }
to = { tick = "worm", days = "worm.withdrawal_days" }
says = "Withdrawal."
source = "common practice"
""")
