"""Files of readings in the forms in which they are given away, and what bad rows get.

Forms: Met Office, historic station data (notes at the head, "---", "*", "#"; its own file of Aberporth opens with
1941, quoted below); NOAA GHCN-Daily documentation (tenths of °C and of mm, -9999); DWD daily climate data
(semicolons, MESS_DATUM, -999); KNMI daily data (YYYYMMDD, tenths). The figures of daily rows are made up.
"""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.trade.climate.readings import How, Reading, Readings, Recognised, read_days, recognise
from app.trade.climate.readings_heads import Columns, columns_of
from app.trade.climate.readings_months import monthly_means
from app.trade.climate.readings_table import table_of


def taken(text: str, said: How | None = None, latitude: float = 54.0) -> tuple[Recognised, Readings]:
    table = table_of(text)
    found = recognise(table, said or How(), latitude)
    return found, read_days(table, found.how)


def only(read: Readings) -> list[tuple[str, float | None, float | None, float | None]]:
    return [(one.day.isoformat(), one.min_c, one.max_c, one.rain_mm) for one in read.days]


TWO = [("2021-03-04", -1.5, 8.0, 0.4), ("2021-03-05", 0.0, 9.5, None)]


@pytest.mark.common_practice
@pytest.mark.parametrize(
    "text",
    [
        "date,tmin,tmax,rain\n2021-03-04,-1.5,8.0,0.4\n2021-03-05,0.0,9.5,\n",
        "\ufeffDate;Min. temp (°C);Max. temp (°C);Rain (mm)\r\n04/03/2021;-1,5;8,0;0,4\r\n"
        "\r\n05/03/2021;0,0;9,5;\r\n13/03/2021;;;\r\n",
        "Year\tMonth\tDay\tMaximum temperature\tMinimum temperature\tPrecipitation\n"
        "2021\t3\t4\t8.0\t-1.5\t0.4\n2021\tMar\t5\t9.5\t0.0\t---\n",
        'DATE,PRCP,TMAX,TMIN\n"20210304","0.4","8.0*","−1.5"\n"20210305","","9.5#","0.0"\n',
        "MESS_DATUM; TXK; TNK; RSK;eor\n20210304;   8.0;  -1.5;   0.4;eor\n20210305;   9.5;   0.0;  -999;eor\n",
        "Our garden, made up\nRead at nine\n\nday  min  max  rain\n"
        "4.3.2021 -1.5 8.0 0.4\n5.3.2021 0.0 9.5 -\n15.3.2021 - - -\n",
        "Date,Tmax (tenths C),Tmin (tenths C),Rain (0.1 mm)\n4 Mar 2021,80,-15,4\n5 March 2021,95,0,-9999\n",
        "when | lowest | highest | rainfall in\n2021-03-04T09:00 | -1.5 | 8.0 | 0.4\n",
    ],
)
def test_common_forms_are_read_by_their_heads(text: str) -> None:
    if text.startswith("when"):
        found, read = taken(text, How(Columns(date=0, min=1, max=2, rain=3)))
        assert found.how.rain == "in"
        assert only(read) == [("2021-03-04", -1.5, 8.0, 10.16)]
        return
    found, read = taken(text)
    assert not found.doubts
    assert found.shape == "daily"
    assert only(read) == TWO
    assert read.unread == ()


@pytest.mark.published
def test_fahrenheit_and_inches_that_the_head_states_are_turned() -> None:
    """32 °F is 0 °C, 212 °F 100 °C and 1 in 25.4 mm, exactly: NIST SP 811, B.8."""
    found, read = taken("Date,Low (F),High (F),Precip (in)\n2021-07-13,50,86,1\n2021-07-14,32,41,T\n")
    assert found.how[1:3] == ("f", "in")
    assert only(read) == [("2021-07-13", 10.0, 30.0, 25.4), ("2021-07-14", 0.0, 5.0, 0.0)]


def year_of(unit: str = "c", head: str = "date,tmin,tmax") -> str:
    lines = [head]
    for n in range(365):
        day = date(2021, 1, 1) + timedelta(n)
        high = 6 + 16 * (1 - abs(n - 200) / 200)
        low = high - 8
        if unit == "f":
            high, low = high * 1.8 + 32, low * 1.8 + 32
        lines.append(f"{day},{low:.0f},{high:.0f}")
    return "\n".join(lines)


def test_fahrenheit_that_nobody_named_is_noticed_and_asked() -> None:
    found = recognise(table_of(year_of("f")), How(), 54.0)
    assert found.how.temperature == ""
    assert "°F" in found.doubts["temperature"]
    assert "71" in found.doubts["temperature"], "the highest days as they stand in the file"
    said = recognise(table_of(year_of("f")), How(temperature="f"), 54.0)
    assert not said.doubts
    assert max(one.max_c or 0 for one in read_days(table_of(year_of("f")), said.how).days) == pytest.approx(
        22.2, abs=0.1
    )


def test_celsius_that_a_head_calls_fahrenheit_is_asked_too() -> None:
    found = recognise(table_of(year_of("c", "date,tmin (F),tmax (F)")), How(), 54.0)
    assert found.how.temperature == ""
    assert "°C" in found.doubts["temperature"]


def test_a_winter_in_fahrenheit_is_absurd_for_the_latitude() -> None:
    text = "date,tmin,tmax\n" + "\n".join(f"2021-01-{n:02},{30 + n % 5},{41 + n % 6}" for n in range(1, 32))
    assert "temperature" in recognise(table_of(text), How(), 54.0).doubts


def test_celsius_as_it_is_measured_is_taken_without_a_question() -> None:
    assert not recognise(table_of(year_of()), How(), 54.0).doubts
    assert not recognise(table_of(year_of()), How(), -38.0).doubts


def test_inches_that_nobody_named_are_asked() -> None:
    text = "date,rain\n" + "\n".join(f"{date(2021, 1, 1) + timedelta(n)},{0.1 if n % 2 else 0}" for n in range(365))
    found = recognise(table_of(text))
    assert found.how.rain == ""
    assert "inches" in found.doubts["rain"]


@pytest.mark.parametrize(
    ("days", "order"),
    [
        (["13/02/2021", "14/02/2021"], "dmy"),
        (["02/13/2021", "02/14/2021"], "mdy"),
        (["01/02/2021", "02/02/2021", "03/02/2021", "04/02/2021"], "dmy"),
        (["02/01/2021", "02/02/2021", "02/03/2021", "02/04/2021"], "mdy"),
        (["2021/02/01", "2021/02/03"], "ymd"),
        (["01/01/21"], ""),
        (["01/02/2021", "03/04/2021"], ""),
    ],
)
def test_the_order_of_a_date_is_told_by_the_days_or_asked(days: list[str], order: str) -> None:
    found = recognise(table_of("date,tmin\n" + "\n".join(f"{day},1" for day in days)))
    assert found.how.order == order
    assert ("order" in found.doubts) == (order == "")


def test_an_order_that_was_asked_is_used() -> None:
    text = "date,tmin\n01/02/2021,1\n"
    for order, day in (("dmy", "2021-02-01"), ("mdy", "2021-01-02")):
        found, read = taken(text, How(order=order))
        assert not found.doubts
        assert only(read)[0][0] == day


@pytest.mark.parametrize(
    ("row", "what", "why"),
    [
        ("2021-02-29,1,5,0", "2021-02-29", "no such day"),
        ("some day,1,5,0", "some day", "no date"),
        (",1,5,0", "", "missing"),
        ("2021-03-01,9,5,0", "9 to 5 °C", "lowest is above the highest"),
        ("2021-03-01,9,60,0", "60 °C", "hotter than air has ever been measured"),
        ("2021-03-01,-95,6,0", "-95 °C", "colder than air has ever been measured"),
        ("2021-03-01,1,5,-2", "-2 mm", "no rain below nought"),
        ("2021-03-01,1,5,2500", "2500 mm", "more than ever fell in a day"),
        ("2021-03-01,1,mild,0", "2021-03-01", "'mild' is no figure"),
        ("2021-03-01,1,inf,0", "2021-03-01", "no figure"),
        ("2031-03-01,1,5,0", "2031-03-01", "not come yet"),
        ("2021-02-01,1,6,0", "2021-02-01", "twice with other figures"),
    ],
)
@pytest.mark.published
def test_a_row_that_can_not_be_is_named_and_the_rest_is_taken(row: str, what: str, why: str) -> None:
    """No hotter than 56.7 °C, no colder than −89.2 °C, no wetter than 1 825 mm: WMO, Weather and Climate Extremes."""
    text = f"date,tmin,tmax,rain\n2021-02-01,1,5,0\n{row}\n2021-02-03,2,6,1\n"
    table = table_of(text)
    read = read_days(table, recognise(table).how._replace(order="ymd"), until=date(2027, 3, 1))
    assert [one.day.day for one in read.days] == [1, 3]
    (left,) = read.unread
    assert left.line == 3
    assert what in left.what
    assert why in left.why


@pytest.mark.published
def test_the_highest_and_lowest_ever_measured_are_taken() -> None:
    _, read = taken(
        "date,tmin,tmax\n1913-07-10,30,56.7\n1983-07-21,-89.2,-60\n1983-07-22,-60,-50\n", How(temperature="c")
    )
    assert len(read.days) == 3


def test_a_month_that_is_missing_is_named_and_single_days_are_counted() -> None:
    days = [date(2020, 1, 1) + timedelta(n) for n in range(366)]
    kept = [day for day in days if day.month not in (4, 9) and day.day != 15]
    read = taken("date,tmin\n" + "\n".join(f"{day},1" for day in kept))[1]
    assert read.missing_months == ((2020, 4), (2020, 9))
    assert read.missing_days == 10


def test_the_same_row_twice_counts_once() -> None:
    _, read = taken("date,tmin\n2021-03-14,1\n2021-03-14,1.0\n2021-03-15,\n")
    assert (len(read.days), read.repeated, read.empty, read.unread) == (1, 1, 1, ())


@pytest.mark.published
def test_a_monthly_file_is_known_as_one_and_gives_means() -> None:
    """The form of the Met Office's historic station data; the figures are made up."""
    text = (
        "Invented\nLocation: 0E 0N, Lat 52.1 Lon -4.6, 133 metres amsl\n"
        "Estimated data is marked with a * after the value.\n"
        "Missing data (more than 2 days missing in month) is marked by  ---.\n"
        "   yyyy  mm   tmax    tmin      af    rain     sun\n"
        "              degC    degC    days      mm   hours\n"
        "   2019   1    8.0     2.0      12    74.7     ---\n"
        "   2019   2    7.0*    1.0*     12    69.1     ---\n"
        "   2020   1    9.0     4.0      12    80.3    43.1#\n"
        "   2020   2    ---     1.0      12    ---     43.1  Provisional\n"
    )
    table = table_of(text)
    found = recognise(table)
    assert found.shape == "monthly"
    means = monthly_means(table, found.how)
    assert [tuple(mean) for mean in means.months] == [(1, 3.0, 8.5, 77.5, 2), (2, 1.0, 7.0, 69.1, 1)]
    for head, rows in (("month", ("2020-01", "2020-02")), ("date", ("Jan 2020", "Feb 2020"))):
        table = table_of(f"{head},tmin,tmax\n{rows[0]},1,5\n{rows[1]},2,6\n")
        columns = Columns(date=0, min=1, max=2)
        found = recognise(table, How(columns, order="ymd"))
        assert found.shape == "monthly"
        assert [mean.min_c for mean in monthly_means(table, found.how).months] == [1.0, 2.0]


def test_thirty_years_of_months_with_rain_raise_no_question_of_units() -> None:
    """The form of the Met Office's historic station files: 50 mm a month are 600 mm in a year, whatever the rows."""
    rows = [f"{y} {m} {10 + m}.0 {m - 2}.0 3 50.0 40.1" for y in range(1990, 2020) for m in range(1, 13)]
    table = table_of("\n".join(["yyyy mm tmax tmin af rain sun", *rows]))
    found = recognise(table)
    assert (found.shape, found.doubts, found.how.rain) == ("monthly", {}, "mm")
    july = monthly_means(table, found.how).months[6]
    assert (july.month, july.min_c, july.max_c, july.rain_mm) == (7, 5.0, 17.0, 50.0)


def test_first_days_of_months_are_a_monthly_file_and_hours_are_none() -> None:
    months = "date,tmin\n" + "\n".join(f"2021-{n:02}-01,1" for n in range(1, 13))
    assert recognise(table_of(months)).shape == "monthly"
    hours = "date,tmin\n" + "\n".join(f"2021-01-{d:02} {h:02}:00,1" for d in range(1, 4) for h in range(24))
    assert recognise(table_of(hours)).shape == "several"


def test_what_has_no_known_heads_is_mapped() -> None:
    text = "2021-03-14;4.5;12.0\n2021-03-15;3.5;11.0\n"
    found = recognise(table_of(text))
    assert set(found.doubts) == {"date", "min"}
    assert table_of(text).heads == ("Column 1", "Column 2", "Column 3")
    _, read = taken(text, How(Columns(date=0, min=1, max=2)))
    assert only(read) == [("2021-03-14", 4.5, 12.0, None), ("2021-03-15", 3.5, 11.0, None)]


@pytest.mark.parametrize(
    ("heads", "wanted"),
    [
        ("STATION,NAME,DATE,PRCP,SNOW,TMAX,TMIN", Columns(date=2, rain=3, max=5, min=6)),
        ("time,temperature_2m_max (°C),temperature_2m_min (°C),precipitation_sum (mm)",
         Columns(date=0, max=1, min=2, rain=3)),
        ("STN,YYYYMMDD,TG,TN,TX,RH", Columns(date=1, min=3, max=4)),
        ("Product code,Station number,Year,Month,Day,Maximum temperature (Degree C),Days of accumulation",
         Columns(year=2, month=3, day=4, max=5)),
        ("date,ind,maxtp,ind,mintp,igmin,gmin,ind,rain", Columns(date=0, max=2, min=4, rain=8)),
        ("Date,Outdoor Temperature Low (F),Outdoor Temperature High (F),Rain (in)",
         Columns(date=0, min=1, max=2, rain=3)),
    ],
)  # fmt: skip
@pytest.mark.from_memory
def test_heads_of_public_services_are_known(heads: str, wanted: Columns) -> None:
    """Heads as several national services and home stations write them."""
    assert columns_of(heads.split(",")) == wanted


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff", "   \n\t\n"])
def test_nothing_is_told(text: str) -> None:
    with pytest.raises(ValueError, match="nothing in it"):
        table_of(text)


def test_more_rows_than_days_there_were_are_told() -> None:
    with pytest.raises(ValueError, match="four hundred years"):
        table_of("date,tmin\n" + "2021-01-01,1\n" * 150_001)


def test_an_open_quote_swallows_no_more_than_its_line() -> None:
    _, read = taken('date,tmin\n2021-03-14,1\n2021-03-15,"2\n2021-03-16,3\n')
    assert [one.day.day for one in read.days] == [14, 15, 16]


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    try:
        table = table_of(text)
    except ValueError as error:
        if not str(error):
            raise
        return
    found = recognise(table)
    for how in (found.how, How(Columns(date=0, min=1, max=2, rain=3)), How(Columns(year=0, month=1, day=2, min=3))):
        read = read_days(table, how)
        assert len(read.days) + len(read.unread) + read.repeated + read.empty == len(table.rows)
        monthly_means(table, how)


_c = st.integers(-300, 400).map(lambda n: n / 10)


@given(st.lists(st.tuples(_c, _c, st.integers(0, 900).map(lambda n: n / 10)), min_size=20, max_size=60), st.booleans())
def test_what_is_written_is_read_again(rows: list[tuple[float, float, float]], comma: bool) -> None:
    days = [Reading(date(2019, 12, 20) + timedelta(n), min(a, b), max(a, b), c) for n, (a, b, c) in enumerate(rows)]
    figures = [";".join(str(figure) for figure in row[1:]).replace(".", "," if comma else ".") for row in days]
    rows_of = [f"{row.day:%d.%m.%Y};{cells}" for row, cells in zip(days, figures, strict=True)]
    text = "\n".join(["date;tmin;tmax;rain", *rows_of])
    table = table_of(text)
    read = read_days(table, How(columns_of(table.heads), "c", "mm", "dmy"))
    assert read.days == tuple(days)
