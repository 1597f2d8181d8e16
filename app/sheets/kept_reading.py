"""The program's sheets as they were read, kept beside Python's own bytecode.

Reading and checking some two hundred files is most of a start, and they change only with the program. What was read is
kept in `__pycache__` under a name made of every file that bears on it: the TOML, and the code that reads it. Where
nothing can be written there, or what is kept can't be read, the files are read as if nothing had been kept.
"""

import os
import pickle
import sys
from collections.abc import Callable, Iterable
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

from app.rules.kept import collector_resting

T = TypeVar("T")
Stamp = tuple[Path, int, int]
"""How a file is: its path, when it was changed in ns, how many bytes it has."""

CODE = Path(__file__).parent.parent
FOLDER = Path(__file__).parent / "__pycache__"
_READERS = ("sheets/*.py", "rules/*.py", "trade/**/*.py", "errors.py", "units.py")


def kept(make: Callable[[], T], files: Iterable[Stamp], folder: Path = FOLDER) -> T:
    """What ``make`` reads of ``files``; kept for the next start.

    Raises: whatever ``make`` raises; of that nothing is kept.
    """
    at = folder / f"sheets-{digest(files)}.pickle"
    with suppress(Exception):  # whatever is wrong with what is kept, the files are there
        text = at.read_bytes()
        with collector_resting():
            found: T = pickle.loads(text)
        return found
    made = make()
    if not sys.dont_write_bytecode:
        _keep(made, at)
    return made


def digest(files: Iterable[Stamp]) -> str:
    """Other letters when one of these files, or the code that reads and plans, is another than before."""
    return sha256(repr((sys.version, [*files, *_code()])).encode()).hexdigest()[:24]


def stamped(files: Iterable[Path]) -> tuple[Stamp, ...]:
    """How files are."""
    found = ((path, path.stat()) for path in sorted(files))
    return tuple((path, about.st_mtime_ns, about.st_size) for path, about in found)


@cache
def _code() -> tuple[Stamp, ...]:
    """The code that runs: as it was when it was first asked for."""
    return stamped(path for pattern in _READERS for path in CODE.glob(pattern))


def _keep(made: object, at: Path) -> None:
    begun = at.with_suffix(f".{os.getpid()}")
    with suppress(OSError, pickle.PicklingError):
        at.parent.mkdir(exist_ok=True)
        begun.write_bytes(pickle.dumps(made, pickle.HIGHEST_PROTOCOL))
        for old in at.parent.glob("sheets-*.pickle"):
            old.unlink(missing_ok=True)
        begun.replace(at)
