"""One frozen dataclass per page: all that its template gets, under the name ``page``.

Each says which template draws it. Routers fill these from what services return, in words made by
`app.web.words` and drawings made by `app.web.drawing` and `app.web.chain`; a template loops, tests and calls filters.
"""

from app.web.pages.climate import Cell, Measure, MonthLine, Weather
from app.web.pages.cure import Cure, CureAnswer, CureGroup
from app.web.pages.cure_kept import CureKept
from app.web.pages.garden import Bed, BedForm, BedRow, Beds, Fits, Standing, Turn, Turns, Water, WaterDay
from app.web.pages.house import (
    Add,
    Calendar,
    DateLine,
    Entries,
    EntryForm,
    EntryGroup,
    EntryLine,
    Household,
    NewLink,
    Part,
    Person,
    Preview,
    RoundLine,
    RoundPart,
    RoundSheet,
    Shared,
    Sheet,
    SheetFigure,
    SheetGroup,
    SheetLine,
    SheetStep,
    Start,
    Wrong,
)
from app.web.pages.husbandry import LivestockDays, LivestockExpect, LivestockFeed, LivestockGrass
from app.web.pages.kitchen import Bottling, KitchenSum, KitchenSums, StoreLine
from app.web.pages.larder import (
    Batch,
    BatchLabel,
    BatchLabels,
    Kit,
    KitThing,
    Larder,
    LarderAdd,
    LarderCount,
    LarderIn,
    LarderLine,
    LarderLooked,
    LarderPlace,
    LarderPower,
    SearchPage,
)
from app.web.pages.livestock import (
    Livestock,
    LivestockBottle,
    LivestockGroup,
    LivestockIn,
    LivestockMedicine,
    LivestockRegister,
    LivestockTreat,
)
from app.web.pages.meat import Delivery, DeliveryDay, DeliveryPacking, DeliveryTold, Meat, PackRow
from app.web.pages.meat_back import CookLine, Keeping, KeepLine, TableBack, Thaw, WayInLine
from app.web.pages.page import Page
from app.web.pages.phones import Https, Invited, KindSteps, LetIn, Phones
from app.web.pages.preserving import (
    BatchGroup,
    BatchOnItsWay,
    Drying,
    DryingBatch,
    DryingSums,
    Glut,
    GlutEntry,
    GlutWayCard,
    Preserving,
)
from app.web.pages.records import (
    Column,
    DayLine,
    MonthTyped,
    WeatherFile,
    WeatherMonths,
    WeatherReading,
    WeatherRecord,
    WeatherTaking,
)
from app.web.pages.seed import (
    Crossing,
    FlowerLine,
    Generation,
    Label,
    SeedJar,
    SeedKind,
    SeedLabels,
    SeedLine,
    SeedLineage,
    SeedTin,
    Species,
)
from app.web.pages.sums import Gap, Sums, TableCrop, TableMonth, Tally, TheTable, WayGroup, WayLine, Ways
from app.web.pages.upkeep import (
    Upkeep,
    UpkeepAmounts,
    UpkeepFit,
    UpkeepLaw,
    UpkeepWinter,
    UpkeepWood,
    UpkeepYears,
)
from app.web.pages.work import (
    Entry,
    GridDay,
    GridJob,
    GridWeek,
    Job,
    Month,
    MonthGrid,
    Remembered,
    Summary,
    Ticked,
)
from app.web.pages.yard import Coming, DayAhead, DayWeather, Evening, EveningLine, NotToday, Tap, Today
