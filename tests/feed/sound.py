"""What no reader of calendars complains of, looked for on the raw lines."""

import re

from tests.feed.sample import unfolded

_TEXTS = ("SUMMARY", "DESCRIPTION", "LOCATION", "NAME", "X-WR-CALNAME", "X-WR-CALDESC")


def faults(data: bytes) -> list[str]:
    """What is wrong with a calendar by RFC 5545 and RFC 7986, of what readers let pass; none when it is sound."""
    found = _of_lines(data)
    lines = unfolded(data)
    uids = [line[4:] for line in lines if line.startswith("UID:")]
    found += ["an identifier twice"] if len(set(uids)) < len(uids) else []  # RFC 5545, 3.8.4.7
    found += [f"identifier {one}" for one in uids if not re.fullmatch("[A-Za-z0-9-]{1,254}", one)]  # RFC 7986, 5.3
    for line in lines:
        name, _, value = line.partition(":")
        bare = name.split(";")[0]
        if bare in _TEXTS and re.search(r"(?<!\\)(?:\\\\)*[;,]", value):  # RFC 5545, 3.3.11
            found.append(f"not escaped: {line}")
        if bare in ("DTSTART", "DTEND", "DUE") and len(value) == 8 and "VALUE=DATE" not in name:  # RFC 5545, 3.8.2
            found.append(f"a date that does not say so: {line}")
        if bare in ("DTSTAMP", "LAST-MODIFIED", "COMPLETED") and not re.fullmatch(r"\d{8}T\d{6}Z", value):
            found.append(f"not in UTC: {line}")  # RFC 5545, 3.8.7
    for block in re.findall(r"BEGIN:(VEVENT|VTODO)\n(.*?)END:\1\n", "\n".join(lines) + "\n", flags=re.S):
        found += _of_component(*block)
    return found


def _of_lines(data: bytes) -> list[str]:
    """RFC 5545, 3.1: lines end in CRLF, have at most 75 octets, and are not cut inside a letter."""
    found = [] if data.endswith(b"END:VCALENDAR\r\n") else ["no end"]
    found += ["a byte-order mark"] if data.startswith(b"\xef\xbb\xbf") else []
    for line in data.split(b"\r\n"):
        if b"\r" in line or b"\n" in line:
            found.append(f"a bare line break: {line!r}")
        if len(line) > 75:
            found.append(f"{len(line)} octets: {line!r}")
        try:
            line.decode()
        except UnicodeDecodeError:
            found.append(f"cut inside a letter: {line!r}")
    return found


def _of_component(kind: str, body: str) -> list[str]:
    """RFC 5545, 3.6.1 and 3.6.2: what is there once, and that the end is of the same kind and later."""
    found: list[str] = []
    whole = re.sub(r"BEGIN:VALARM\n.*?END:VALARM\n", "", body, flags=re.S)
    names = [line.partition(":")[0] for line in whole.splitlines()]
    bare = [name.split(";")[0] for name in names]
    end = "DTEND" if kind == "VEVENT" else "DUE"
    singles = ("UID", "DTSTAMP", "DTSTART", end, "SUMMARY", "STATUS")
    found += [f"{once} {bare.count(once)} times: {whole}" for once in singles if bare.count(once) != 1]
    values = {line.partition(":")[0]: line.partition(":")[2] for line in whole.splitlines()}
    start, until = ({k: v for k, v in values.items() if k.split(";")[0] == name} for name in ("DTSTART", end))
    kinds = [[key.partition(";")[2] for key in one] for one in (start, until)]
    if kinds[0] != kinds[1] or not min(until.values(), default="") > min(start.values(), default=""):
        found.append(f"ends before it begins, or in another way: {whole}")
    allowed = {"VEVENT": {"TENTATIVE", "CONFIRMED", "CANCELLED"}, "VTODO": {"NEEDS-ACTION", "COMPLETED", "CANCELLED"}}
    if values.get("STATUS") not in allowed[kind]:
        found.append(f"status {values.get('STATUS')}")
    return found
