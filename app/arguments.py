"""What may stand behind a command, read; what can't be read is refused in a sentence.

Raises, each of them: argparse.ArgumentTypeError.
"""

import argparse
import re
from datetime import date
from ipaddress import ip_address

from app.rules.terms import TRADES


def a_date(text: str) -> date:
    """A day: 2027-09-15."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no date; write it as 2027-09-15") from None


def a_port(text: str) -> int:
    """A port: 8000; 0 for any that is free."""
    if not text.isdecimal() or int(text) > 65535:
        raise argparse.ArgumentTypeError(f"'{text}' is no port; it is a number up to 65535")
    return int(text)


def a_host(text: str) -> str:
    """The name of a machine, with a port if need be: holding.example."""
    if not re.fullmatch(
        r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*(:\d{1,5})?", text.lower()
    ):
        raise argparse.ArgumentTypeError(f"'{text}' is no name of a machine; write it as holding.example")
    return text.lower()


def an_address(text: str) -> str:
    """An IP address: 192.168.1.2."""
    try:
        return str(ip_address(text))
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no address; write it as 192.168.1.2") from None


def some_trades(text: str) -> tuple[str, ...]:
    """Trades with commas between: garden,meat."""
    trades = tuple(trade.strip() for trade in text.split(",") if trade.strip())
    wrong = [trade for trade in trades if trade not in TRADES]
    if wrong or not trades:
        raise argparse.ArgumentTypeError(f"'{text}' are no trades; there are {', '.join(TRADES)}")
    return trades
