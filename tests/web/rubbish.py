"""Requests that no page would send, made at random from a seed, so that a fault can be had again."""

import random
import re
from collections.abc import Iterator
from html import unescape
from typing import NamedTuple
from urllib.parse import quote, quote_plus

from tests.web.surface import BASE, VALUES, filled, surface

ODD = (
    "", " ", "0", "-1", "1", "2", "00", "1e309", "-0", "nan", "inf", "1,5", "1.5.5", "9" * 25, "9" * 400, "٣", "²",
    "½", "2027-02-30", "2027-09-15", "0001-01-01", "9999-12-31", "10000-01-01", "2027-9-5", "15/9", "1 Jan 0",
    "25:61", "\x00", "a\x00b", "\n", "\r\n", "\u2028", "\ufeff", "🥕" * 50, "é" * 5000, "x" * 70_000, "=1+1",
    "<script>", "'\"", "%", "%s", "{{7*7}}", "../../etc/passwd", "..\\", "on", "yes", "no", "events", "true", "None",
    "null", "[]", "{}", "a.b.c", "+", "leeks", "leek", "leeks.plant", "garden", "pigs", "kg", "garden/bed",
    "crop:leek", "last-pigs.kill+pork", "bought-1", "--05-12", "2027-09", "2027-W37", "P1W", "-P9999999999D", "5 kg",
    "3 st 4 lb", "-273.16", "1e-320", "9223372036854775808", "4.9e324", "1_000", "0x10", " 5 ", "5%", "5 to 4",
    "12-13-2027", "29 February 2027", "monday",
)  # fmt: skip
RAW = (b"%ED%A0%80", b"%FF%FE", b"%C0%80", b"%", b"%zz", b"%00", b"%F0%9F", b"+", b"&&&", b"=", b"a=b=c")
KINDS = (
    "application/x-www-form-urlencoded", "application/x-www-form-urlencoded; charset=utf-16", "multipart/form-data",
    "multipart/form-data; boundary=x", "multipart/form-data; boundary=" + "b" * 300, "application/json", "text/plain",
    "", "nonsense",
)  # fmt: skip
METHODS = ("GET", "POST", "HEAD", "OPTIONS", "PUT", "DELETE", "PATCH", "TRACE", "BREW")
HEADERS = (
    {"hx-request": "true"}, {"accept-encoding": "gzip"}, {"if-none-match": '"x", *'}, {"range": "bytes=5-1"},
    {"if-modified-since": "Mon, 99 Foo 0000"}, {"cookie": "twelvemonth=\"; a=b;;="}, {"content-length": "-1"},
    {"accept-language": "x" * 2000}, {"referer": "http://[::1"}, {"sec-fetch-site": "none"}, {},
)  # fmt: skip


class Asked(NamedTuple):
    """A request."""

    method: str
    url: str
    headers: dict[str, str]
    body: bytes


class Names:
    """The names of fields that forms of the pages were seen to have, by where the forms go."""

    def __init__(self) -> None:
        self.every: dict[str, None] = dict.fromkeys(("id", "key", "on", "name", "what", "date", "seen"))
        self.of: dict[str, dict[str, list[str]]] = {}

    def learn(self, page: str) -> None:
        """Take in the forms of a page, with the values they would send."""
        for head, body in re.findall(r"<form([^>]*)>(.*?)</form>", page, flags=re.S):
            action = re.search(r'action="([^"]*)"', head)
            fields = self.of.setdefault(unescape(action[1]) if action else "", {})
            for tag in re.findall(r"<(?:input|select|textarea|button|option)[^>]*>", body):
                name, value = re.search(r'\bname="([^"]*)"', tag), re.search(r'\bvalue="([^"]*)"', tag)
                if name:
                    self.every[unescape(name[1])] = None
                    fields.setdefault(unescape(name[1]), []).append(unescape(value[1]) if value else "")


def requests(draw: random.Random, names: Names) -> Iterator[Asked]:
    """Requests without end: half of them at an address with a form that was seen, the others anywhere."""
    every = list(dict.fromkeys(surface()))
    while True:
        forms = [(action, fields) for action, fields in names.of.items() if action.startswith("/")]
        if forms and draw.random() < 0.55:
            action, fields = draw.choice(forms)
            yield _form(draw, action.partition("#")[0], fields, names)
        else:
            method, pattern = draw.choice(every)
            values = {name: value if draw.random() < 0.5 else _odd(draw) or "x" for name, value in VALUES.items()}
            path = filled(
                pattern, {name: quote(value[:2000], safe="", errors="surrogatepass") for name, value in values.items()}
            )
            if draw.random() < 0.2:
                method = draw.choice(METHODS)
            fields = {name: [_odd(draw)] for name in draw.sample(list(names.every), min(4, len(names.every)))}
            yield _form(draw, path, fields, names, method)


def _form(draw: random.Random, path: str, fields: dict[str, list[str]], names: Names, method: str = "") -> Asked:
    said: list[tuple[str, str]] = []
    amiss = draw.choice((0.0, 0.1, 0.3, 1.0))
    for name, values in fields.items():
        if draw.random() < 0.08:
            continue
        value = _odd(draw) if draw.random() < amiss else draw.choice(values)
        said += [(name, value)] * (2 if draw.random() < 0.03 else 1)
    if draw.random() < 0.2:
        said.append((draw.choice(list(names.every)), _odd(draw)))
    sent = "&".join(f"{_quoted(name)}={_quoted(value)}" for name, value in said).encode()
    if draw.random() < 0.1:
        sent += b"&" + draw.choice(list(names.every)).encode() + b"=" + draw.choice(RAW)
    method = method or draw.choice(("POST", "POST", "POST", "GET"))
    headers = {"origin": BASE, **(draw.choice(HEADERS) if draw.random() < 0.2 else {})}
    if method in ("GET", "HEAD", "OPTIONS"):
        return Asked(method, f"{path}{'&' if '?' in path else '?'}{sent.decode()[:6000]}", headers, b"")
    kind = KINDS[0] if draw.random() < 0.85 else draw.choice(KINDS)
    if kind:
        headers["content-type"] = kind
    if kind.startswith("multipart") and draw.random() < 0.7:
        sent = _parts(draw, said)
    return Asked(method, path, headers, sent)


def _parts(draw: random.Random, said: list[tuple[str, str]]) -> bytes:
    body = b""
    for name, value in said:
        file = '; filename="a.txt"' if draw.random() < 0.1 else ""
        head = f'--x\r\nContent-Disposition: form-data; name="{name}"{file}\r\n\r\n'
        body += head.encode("utf-8", "surrogatepass") + value.encode("utf-8", "surrogatepass") + b"\r\n"
    return body + (b"--x--\r\n" if draw.random() < 0.8 else b"")


def _quoted(text: str) -> str:
    return quote_plus(text.encode("utf-8", "surrogatepass"))


def _odd(draw: random.Random) -> str:
    if draw.random() < 0.8:
        return draw.choice(ODD)
    return "".join(
        chr(draw.choice((draw.randrange(32, 127), draw.randrange(0, 0x800), 0xD800, 0x1F955))) for _ in range(9)
    )
