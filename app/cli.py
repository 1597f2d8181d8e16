"""The command: parse, call a service, print. Exit codes: 0 done, 1 it can't be done, 2 asked wrongly."""

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from app.arguments import a_date, a_host, a_port, an_address, some_trades
from app.errors import BadInput, MissingFact, NotFound, TwelvemonthError
from app.rules.terms import TRADES
from app.settings import Settings, read_settings

DONE, FAILED, ASKED_WRONGLY = 0, 1, 2
Command = Callable[[argparse.Namespace, Settings], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; gives its exit code. Every foreseen error is one plain sentence on the error stream."""
    args = _parser().parse_args(argv)
    run: Command = args.run
    try:
        code = run(args, read_settings(os.environ))
        sys.stdout.flush()
    except MissingFact:
        return _say(
            TwelvemonthError("Nothing has been put down yet. Start 'twelvemonth serve' and say where the holding is."),
            FAILED,
        )
    except BrokenPipeError:  # whoever read along has seen enough
        with suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except (BadInput, NotFound) as error:
        return _say(error, ASKED_WRONGLY)
    except TwelvemonthError as error:
        return _say(error, FAILED)
    except KeyboardInterrupt:
        return DONE
    return code


def _say(error: TwelvemonthError, code: int) -> int:
    print(f"twelvemonth: {error}", file=sys.stderr)
    return code


# ── Serving ───────────────────────────────────────────────────────────────────────────────────────────────────────


def serve(args: argparse.Namespace, settings: Settings) -> int:
    """Serve the household's own holding until it is told to stop."""
    from app.serving import Way
    from app.serving import serve as run

    if args.https and args.behind_proxy:
        raise BadInput({"https": "--https or --behind-proxy: behind a proxy, that one speaks https."})
    if args.https and not args.house:
        raise BadInput({"https": "--https is for phones of the house: say --house too."})
    if args.behind_proxy and not args.trusted_host:
        raise BadInput({"trusted_host": "Behind a proxy, say with --trusted-host under which name it is asked for."})
    way = Way(args.https, args.behind_proxy, tuple(args.trusted_host), args.proxy_address)
    run(settings, host=args.host, port=args.port, today=args.today, say=_aloud, house=args.house, way=way)
    return DONE


def demo(args: argparse.Namespace, settings: Settings) -> int:
    """Serve the made-up holding out of a folder that is gone afterwards."""
    from app.serving import serve_demo

    serve_demo(settings, host=args.host, port=args.port, today=args.today, say=_aloud)
    return DONE


def _aloud(text: str) -> None:
    print(text, flush=True)


# ── The month and the calendar ────────────────────────────────────────────────────────────────────────────────────


def month(args: argparse.Namespace, settings: Settings) -> int:
    """Print a month."""
    from app.services.book import Book
    from app.services.month import month as planned
    from app.services.month import month_days
    from app.services.month_lines import month_lines

    book = Book(settings, now=_now, today=args.today)
    try:
        with book.reading() as session:
            today = book.today()
            wanted = args.month or f"{today:%Y-%m}"
            first, last = month_days(*_month(wanted), today.toordinal())
            for line in month_lines(planned(book, session, first, last, today.toordinal()), book.name):
                print(line)
    finally:
        book.close()
    return DONE


def calendar(args: argparse.Namespace, settings: Settings) -> int:
    """Write the calendar to a file."""
    from app.services.book import Book
    from app.services.feed_links import Options
    from app.services.feeds import write
    from app.services.keeping import put_file

    book = Book(settings, now=_now)
    try:
        with book.reading() as session:
            made = write(book, session, Options(args.trades, args.done, args.todo, args.alarm))
    finally:
        book.close()
    put_file(args.out, made.body)
    print(f"The calendar is in {args.out}")
    return DONE


def _month(text: str) -> tuple[int, int]:
    found = re.fullmatch(r"(\d{4})-(\d{2})", text)
    if not found or not 1 <= int(found[2]) <= 12:
        raise BadInput({"month": f"'{text}' is no month; write it as year and month, such as 2027-09."})
    return int(found[1]), int(found[2])


# ── The sheets ────────────────────────────────────────────────────────────────────────────────────────────────────


def sheets_check(args: argparse.Namespace, settings: Settings) -> int:
    """Say what is wrong with the program's sheets, or with the household's own in a folder."""
    from app.sheets.check import check, listing
    from app.sheets.library import load

    folder = args.folder or (settings.sheets if settings.sheets.is_dir() else None)
    faults = check(folder)
    for fault in faults:
        print(fault)
    if faults:
        return FAILED
    print(f"{len(listing(load(folder)))} sheets, and nothing wrong with them")
    return DONE


def sheets_list(args: argparse.Namespace, settings: Settings) -> int:
    """A line for each sheet: trade, id, how many steps, and what it rests on."""
    from app.sheets.check import listing
    from app.sheets.library import load

    rows = listing(load(settings.sheets))
    wide = max((len(row.id) for row in rows), default=0)
    for row in rows:
        print(f"{row.trade:<11} {row.id:<{wide}} {row.steps:>3} steps  {row.sources}")
    return DONE


# ── Keeping ───────────────────────────────────────────────────────────────────────────────────────────────────────


def backup(args: argparse.Namespace, settings: Settings) -> int:
    """Write a backup."""
    from app.services import keeping

    keeping.backup(settings, args.file)
    print(f"Backed up to {args.file}")
    return DONE


def restore(args: argparse.Namespace, settings: Settings) -> int:
    """Put a backup in place of what is here."""
    from app.services import keeping

    keeping.restore(settings, args.file, _now())
    print(f"Restored from {args.file}; what was here before lies in {settings.backups}")
    return DONE


def export(args: argparse.Namespace, settings: Settings) -> int:
    """Write everything as open files."""
    from app.services import keeping

    keeping.export(settings, args.to, _now())
    print(f"Everything is in {args.to}")
    return DONE


def import_(args: argparse.Namespace, settings: Settings) -> int:
    """Read an export back."""
    from app.services import keeping

    counts = keeping.take_in(settings, args.source, _now(), replace=args.replace)
    print(f"Read {counts['entry']} entries and {counts['tick']} ticks from {args.source}")
    return DONE


# ── Weather ───────────────────────────────────────────────────────────────────────────────────────────────────────


def weather_take(args: argparse.Namespace, settings: Settings) -> int:
    """Take in a file of daily weather."""
    from app.services.book import Book
    from app.services.weather.files import named, take_file

    book = Book(settings, now=_now)
    try:
        looked, taken = take_file(book, args.file, named(args.temperature, args.rain, args.order), over=args.over)
    finally:
        book.close()
    for one in looked.read.unread if looked.read else ():
        print(f"line {one.line}: {one.what}: {one.why}")
    print(f"Took in {taken.new} days from {args.file}; {taken.stayed} were on record already")
    return DONE


# ── Parsing ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _now() -> datetime:
    return datetime.now(UTC)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="twelvemonth", description="A household's year on a smallholding.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    def add(name: str, run: Command, says: str) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=says, description=says)
        one.set_defaults(run=run)
        return one

    for name, run, says in (
        ("serve", serve, "serve your own holding to the browser"),
        ("demo", demo, "serve a made-up holding, gone when it stops"),
    ):
        one = add(name, run, says)
        one.add_argument("--port", type=a_port, help="8000 unless said, or the next that is free")
        one.add_argument("--host", default="127.0.0.1", help="the address to listen on; this machine only unless said")
        one.add_argument("--today", type=a_date, metavar="YYYY-MM-DD", help="let it be this day, to try something out")
        if run is serve:
            says = "let phones of the house in, by a code; without it only this machine is answered"
            one.add_argument("--house", action="store_true", help=says)
            _add_ways(one)
    one = add("month", month, "print a month")
    one.add_argument("month", nargs="?", metavar="YYYY-MM", help="this month unless said")
    one.add_argument("--today", type=a_date, metavar="YYYY-MM-DD", help=argparse.SUPPRESS)
    one = add("calendar", calendar, "write the jobs to an iCalendar file")
    one.add_argument("--out", type=Path, required=True, metavar="FILE")
    one.add_argument("--todo", action="store_true", help="to-dos with their whole window, instead of events")
    one.add_argument("--done", action="store_true", help="what is done too")
    one.add_argument("--alarm", action="store_true", help="let each ring before its window closes")
    one.add_argument(
        "--trades", type=some_trades, default=(), metavar="A,B", help=f"only of these: {', '.join(TRADES)}"
    )
    one = add("backup", backup, "write a backup to a file")
    one.add_argument("file", type=Path)
    one = add("restore", restore, "put a backup in place of what is here")
    one.add_argument("file", type=Path)
    one = add("export", export, "write everything to a folder or a .zip, as open files")
    one.add_argument("to", type=Path, metavar="FOLDER|ZIP")
    one = add("import", import_, "read an export back")
    one.add_argument("source", type=Path, metavar="PATH")
    one.add_argument("--replace", action="store_true", help="in place of what is here, of which a backup is made")
    _add_sheets(commands)
    _add_weather(commands)
    return parser


def _add_ways(one: argparse.ArgumentParser) -> None:
    one.add_argument("--https", action="store_true", help="with a certificate of this house's own, made and renewed")
    one.add_argument("--behind-proxy", action="store_true", help="another server stands in front, and speaks https")
    one.add_argument(
        "--trusted-host", type=a_host, action="append", default=[], metavar="NAME",
        help="another name under which it may be asked for; more than once for several",
    )  # fmt: skip
    one.add_argument(
        "--proxy-address", type=an_address, default="127.0.0.1", metavar="IP",
        help="where the server in front calls from; 127.0.0.1 unless said",
    )  # fmt: skip


def _add_sheets(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    sheets = commands.add_parser("sheets", help="check or list the sheets").add_subparsers(required=True)
    one = sheets.add_parser("check", help="say what is wrong with the sheets, or with your own in a folder")
    one.add_argument("folder", nargs="?", type=Path)
    one.set_defaults(run=sheets_check)
    sheets.add_parser("list", help="a line for each sheet").set_defaults(run=sheets_list)


def _add_weather(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    weather = commands.add_parser("weather", help="take in daily weather").add_subparsers(required=True)
    one = weather.add_parser("take", help="take in a file with a row for each day")
    one.add_argument("file", type=Path)
    one.add_argument("--temperature", choices=("c", "f", "tenths"), default="", help="the unit, if the file can't tell")
    one.add_argument("--rain", choices=("mm", "in", "tenths"), default="", help="the unit, if the file can't tell")
    one.add_argument("--order", choices=("dmy", "mdy", "ymd"), default="", help="in which order the dates are written")
    one.add_argument("--over", action="store_true", help="where a day is on record already, let the file count")
    one.set_defaults(run=weather_take)


if __name__ == "__main__":
    sys.exit(main())
