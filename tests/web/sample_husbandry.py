"""The pages of livestock that look ahead, filled by hand; invented, as `tests.web.sample` says."""

from app.web import pages
from app.web.livestock.husbandry_drawing import lay_curve, month_bars
from app.web.livestock.husbandry_links import ways
from app.web.pages.husbandry import DayAhead, EggWeek, FeedGroup, FeedThing, FlockLay, GrassLine, MeatAhead
from app.web.parts import Caution, Field, Follow, Form, Link, Pair
from tests.web.sample_jobs import frame

FIRST = Pair("Two days late", "Book the abattoir: Two weaners & <all>", "#t-pigs_kill")


def days() -> pages.LivestockDays:
    """One to be booked with a fault beside its day, one booked."""
    wrong = Field("day", "Day given", "date", "2027-02-31", error="There is no such day as 2027-02-31.", id="day-1")
    to_book = DayAhead(
        "t-pigs_kill", "Two weaners", "/entry/pigs", "Abattoir", "hoped for about 6 November", "book by 13 September",
        True, ("Inside the withdrawal period of the wormer, until its days are written down.",),
        (Pair("carcase", "about 141 kg (129 kg to 144 kg)"), Pair("comes back as", "pork, on the sheet ‘Pork’")),
        "Short of 160 l of freezer.", (Follow("Read the medicine book", "/job/pigs.clear", "from 2 · best 2"),),
        Form("/livestock/days", "It is booked", (wrong,), (Pair("key", "pigs.book"), Pair("id", "a" * 32))), True,
    )  # fmt: skip
    again = Form("/livestock/days", "Booked for another day", (Field("day", "Day given", "date", id="day-2"),))
    booked = DayAhead(
        "t-shear", "The flock", "/entry/flock", "Shearer", "Thursday 17 June", "booked", False, (), (), "",
        (Follow("Bring them in", "/job/shear.in", "on 16 Jun"),), again, False,
    )  # fmt: skip
    return pages.LivestockDays(
        frame("Appointments", "livestock"), FIRST, (to_book,), (booked,), (Link("The vet", "/add/vet-visit"),),
        ways("/livestock/days"), (Caution("Never alone with a bull.", "common practice"),), ("Book early.",), "",
    )  # fmt: skip


def feed() -> pages.LivestockFeed:
    """Something to order, and a price that is none."""
    fields = (Field("price", "A bag costs", "number", "much", error="A number is wanted.", id="feed-0-price"),)
    months = (("Sep", 60.0), ("Oct", 66.0), ("Nov", 0.0))
    words = "Layers feed by month: September 60 kg, October 66 kg."
    thing = FeedThing(
        "feed-0", "Layers feed", "Order ten bags of 20 kg by 20 September: it runs out on 30 September.", True,
        (Pair("there", "45 kg"), Pair("cost", "522.60")), month_bars(months, words, "66 kg"),
        (Pair("September 2027", "60 kg"),), Form("/livestock/feed", "Take it down", fields, (Pair("what", "layers"),)),
        True,
    )  # fmt: skip
    group = FeedGroup("The <old> hens", "/entry/hens", "nine head, here", (Pair("layers feed", "1.12 kg a day"),))
    return pages.LivestockFeed(
        frame("Feed, water and bedding", "livestock"), Pair("By 20 September", "Order layers feed", "#feed-0"),
        (thing,), (group,), (Pair("water", "53 l a day"),), ("Heads times what one takes.",),
        ways("/livestock/feed"), "",
    )  # fmt: skip


def expect() -> pages.LivestockExpect:
    """A flock below its curve, a carcase, honey."""
    words = "Eggs by week, expected and come."
    form = Form("/livestock/expect", "Put the eggs down", (Field("eggs", "Eggs", "count", "−3", id="eggs-0",
                error="It should be between 0 and 4000."),), (Pair("entry", "hens"),))  # fmt: skip
    flock = FlockLay(
        "flock-0", "The pullets", "/entry/pullets", "eight birds", "This week about 33 eggs are to be expected.",
        "Down from 15 to 9 eggs in three days.", "Look at every bird.",
        lay_curve((3, 18, 33), (3, 14, None), 2, words, ("33", "1 Sep", "15 Sep")), words,
        (EggWeek("1 September", "33", "not counted", ""), EggWeek("25 August", "18", "14", "78 %")), form,
        ("A model.",),
    )  # fmt: skip
    meat = MeatAhead("Two weaners", "/entry/pigs", "two head", (Pair("carcase", "141 kg"),), "As expected.")
    return pages.LivestockExpect(
        frame("What to expect", "livestock"), (flock,), (meat,), (meat,), ways("/livestock/expect"), ""
    )


def grass() -> pages.LivestockGrass:
    """Stocked too long, resting, hay short."""
    over = GrassLine("beck & bank", "/entry/beck", "stocked too long", "seven head", "off by 5 September", True,
                     Link("the job", "/job/beck.off"))  # fmt: skip
    return pages.LivestockGrass(
        frame("Grass and hay", "livestock"), Pair("Three days late", "Take them off", "/job/beck.off"), (over,),
        "A round takes ten paddocks.", (Pair("the bank", "from 12 October 2028"),), "For lambs.", (over,),
        (Pair("June", "18 dry days; three together about 4.4 times"),), "In a usual year.", "Buy 15 bales.",
        (Pair("in the barn", "870 kg", "/livestock/feed"),), Link("Put it down", "/add/hay-bought"),
        (Link("Hay to be made", "/add/hay-made"),), ways("/livestock/grass"), (Caution("Hay heats."),),
        ("Why so.",), "",
    )  # fmt: skip
