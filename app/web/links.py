"""Addresses of what pages lead to, with ids quoted for a URL."""

from urllib.parse import SplitResult, quote, urlsplit


def entry_href(entry_id: str) -> str:
    """An entry's page."""
    return f"/entry/{quote(entry_id, safe='')}"


def sheet_href(sheet_id: str, step: str = "") -> str:
    """A sheet's page, at one of its steps."""
    return f"/sheet/{quote(sheet_id, safe='')}{'#' + step if step else ''}"


def parted(address: str) -> SplitResult:
    """An address that a request names, in its parts; one that is none ("http://[") as if it had named nothing."""
    try:
        return urlsplit(address)
    except ValueError:
        return urlsplit("")
