"""All that is known: the program's sheets, law, sources and cautions, and the household's own."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from app.errors import Fault, KnowledgeError
from app.rules.facts import Law
from app.rules.sheet import BarRule, Sheet
from app.rules.terms import TRADES
from app.sheets.across import across
from app.sheets.figures import figured
from app.sheets.kept_reading import Stamp, digest, kept, stamped
from app.sheets.law import LandRule, read_law, read_rules
from app.sheets.merge import Change, alike, overlay
from app.sheets.read import parse, read
from app.sheets.sources import read_cautions, read_sources
from app.sheets.values import Caution, Doc, Known, Publication

ROOT = Path(__file__).parent
OWN_FILE = re.compile(r"[a-z0-9][a-z0-9-]*\.toml")  # what an export takes along
KINDS_OF_FILE = ("sources.toml", "cautions.toml", "law/*.toml", *(f"{trade}/*.toml" for trade in TRADES))


@dataclass(frozen=True, slots=True)
class Library:
    """Every sheet by id, the household's figures in it; ``own`` are the ids of its own sheets.

    ``changes`` says, by sheet, what the household changed; ``faults`` what is wrong with files of its own, which are
    left out until they are mended. ``rules`` are what the law of every nation asks, other than closed seasons.
    """

    sheets: Mapping[str, Sheet]
    law: Law
    sources: Mapping[str, Publication]
    cautions: Mapping[str, Caution]
    changes: Mapping[str, tuple[Change, ...]]
    own: frozenset[str]
    faults: tuple[Fault, ...] = ()
    rules: tuple[LandRule, ...] = ()


@dataclass(frozen=True, slots=True)
class _Program:
    """What comes with the program, with the parsed sheets that a household's may build on."""

    library: Library
    known: Known
    docs: Mapping[str, Doc]


def load(own_folder: Path | None = None, root: Path = ROOT) -> Library:
    """Load everything. A household's faulty file is left out and said in ``faults``.

    Raises: KnowledgeError with all that is wrong with the program's own files.
    """
    program = _program(root)
    if own_folder is None or not own_folder.is_dir():
        return program.library
    return _Own(program, own_folder).library()


def mark(own_folder: Path) -> str:
    """A digest of what plans rest on besides facts: the program's knowledge and rules, the household's own sheets."""
    return digest((*_stamps(ROOT), *_stamps(own_folder)))


def _stamps(root: Path) -> tuple[Stamp, ...]:
    """How the files of a folder are."""
    return stamped(root.rglob("*.toml"))


def _program(root: Path) -> _Program:
    """What comes with the program, read once for as long as its files stay as they are."""
    return _once(root, _stamps(root))


@lru_cache(maxsize=2)
def _once(root: Path, files: tuple[Stamp, ...]) -> _Program:
    return kept(lambda: _read(root), files) if root == ROOT else _read(root)


def _read(root: Path) -> _Program:
    faults: list[Fault] = []
    parsed = _parsed(root, KINDS_OF_FILE, faults)
    sources, wrong = read_sources(parsed.pop("sources.toml", {}), "sources.toml")
    faults += wrong
    cautions, wrong = read_cautions(parsed.pop("cautions.toml", {}), "cautions.toml", sources)
    faults += wrong
    docs: dict[str, Doc] = {}
    known = Known(sources, cautions, docs)
    laws = {file: parsed.pop(file) for file in [*parsed] if file.startswith("law/")}
    for file, doc in parsed.items():
        name = Path(file).stem
        faults += _misplaced(doc, file)
        if name in docs:
            faults.append(Fault(file, "", "sheet", f"there is another sheet '{name}', of another trade"))
        docs[name] = doc
    bars, rules = _laws(laws, known, faults)
    sheets: dict[str, Sheet] = {}
    for file, doc in parsed.items():
        if doc.get("pattern") is True:
            continue
        one = read(doc, file, known)
        if isinstance(one, list):
            faults += one
        else:
            sheets[one.id] = one
    faults += across(sheets, _offered(docs))
    if faults:
        raise KnowledgeError(faults)
    library = Library(sheets, Law(bars), sources, cautions, {}, frozenset(), (), rules)
    return _Program(library, known, docs)


def _laws(
    laws: Mapping[str, Doc], known: Known, faults: list[Fault]
) -> tuple[tuple[BarRule, ...], tuple[LandRule, ...]]:
    """The closed seasons and the rules of every nation."""
    bars: list[BarRule] = []
    rules: list[LandRule] = []
    for file, doc in laws.items():
        seasons, wrong = read_law(doc, file, known)
        bars += seasons
        rules += read_rules(doc, file, known)
        faults += wrong
    return tuple(bars), tuple(rules)


def _offered(docs: Mapping[str, Doc]) -> dict[str, Doc]:
    """The sheets that can be followed: all but the patterns that others are like."""
    return {name: doc for name, doc in docs.items() if doc.get("pattern") is not True}


def _parsed(root: Path, patterns: Iterable[str], faults: list[Fault]) -> dict[str, dict[str, Any]]:
    """The TOML files of a folder, by their path from there."""
    found = {}
    for path in sorted(path for pattern in patterns for path in root.glob(pattern)):
        file = path.relative_to(root).as_posix()
        doc = _parse_file(path, file)
        if isinstance(doc, Fault):
            faults.append(doc)
        else:
            found[file] = doc
    return found


def _parse_file(path: Path, file: str) -> dict[str, Any] | Fault:
    try:
        return parse(path.read_text(encoding="utf-8"), file)
    except UnicodeDecodeError as error:
        return Fault(file, "", "", f"this is not UTF-8 text: {error.reason} at byte {error.start}")
    except OSError as error:
        return Fault(file, "", "", f"the file can't be read: {error.strerror}")


def _misplaced(doc: Doc, file: str) -> list[Fault]:
    """A sheet's file bears its id, and lies in the folder of its trade."""
    path, found = Path(file), []
    if doc.get("sheet", path.stem) != path.stem:
        reason = f"found '{doc['sheet']}', but the file is called {path.name}; the id and the name must be the same"
        found.append(Fault(file, "", "sheet", reason))
    folder = path.parent.name
    if folder and doc.get("trade", folder) != folder:
        found.append(Fault(file, "", "trade", f"found '{doc['trade']}', but the file lies in the folder {folder}"))
    return found


class _Own:
    """The household's own folder, taken in file by file on top of what comes with the program."""

    def __init__(self, program: _Program, folder: Path) -> None:
        self.base = program.library
        self.taken = frozenset(program.docs)
        self.faults: list[Fault] = []
        self.sheets: dict[str, Sheet] = {}
        self.changes: dict[str, tuple[Change, ...]] = {}
        self.files: dict[str, str] = {}
        parsed = _parsed(folder, ("**/*.toml",), self.faults)
        for file in [file for file in parsed if not OWN_FILE.fullmatch(file)]:
            del parsed[file]
            reason = "it is left out: a sheet lies in the folder itself, its name small letters, digits and hyphens"
            self.faults.append(Fault(file, "", "", reason))
        changing = {file: doc for file, doc in parsed.items() if "changes" in doc}
        fresh = {file: doc for file, doc in parsed.items() if "changes" not in doc}
        self.docs = {**{Path(file).stem: doc for file, doc in fresh.items()}, **program.docs}
        self.known = program.known._replace(docs=self.docs)
        for file, doc in fresh.items():
            self._add(file, doc)
        for file, doc in changing.items():
            self._change(file, doc)

    def _add(self, file: str, doc: Doc) -> None:
        name = Path(file).stem
        wrong = _misplaced(doc, Path(file).name)
        if name in self.taken or name in self.files:
            wrong.append(Fault(file, "", "sheet", f"there is a sheet '{name}' already; to change it, write changes = "
                               f"\"{name}\""))  # fmt: skip
        if doc.get("pattern") is True:
            self.faults += wrong
        else:
            self._take(file, name, wrong or read(doc, file, self.known))

    def _change(self, file: str, doc: Doc) -> None:
        name = doc["changes"]
        if not isinstance(name, str) or name not in self.base.sheets:
            self.faults.append(Fault(file, "", "changes", f"there is no sheet '{name}' that came with the program"))
        elif name in self.changes:
            self.faults.append(Fault(file, "", "changes", f"{self.files[name]} changes '{name}' already"))
        else:
            try:
                whole, wrong = alike(self.docs[name], file, self.docs)
                whole, unknown = figured(whole, file)
                changed, changes = overlay(whole, doc, file)
                wrong += unknown
            except KnowledgeError as error:
                self.faults += error.faults
                return
            if self._take(file, name, wrong or read(changed, file, self.known)):
                self.changes[name] = tuple(changes)

    def _take(self, file: str, name: str, found: Sheet | list[Fault]) -> bool:
        if isinstance(found, list):
            self.faults += found
            return False
        self.sheets[name], self.files[name] = found, file
        return True

    def library(self) -> Library:
        """Everything together, without what does not fit the rest."""
        while wrong := across({**self.base.sheets, **self.sheets}, _offered(self.docs)):
            self.faults += wrong
            named = {fault.file for fault in wrong}
            # A fault of the program's own file, which was sound, is the doing of some change to a sheet it makes.
            for name in [name for name, file in self.files.items() if file in named] or list(self.changes):
                del self.sheets[name], self.files[name]
                self.changes.pop(name, None)
        own = {**self.sheets}
        for name in self.changes:
            own[name] = replace(own[name], file=self.base.sheets[name].file)
        fresh = frozenset(self.sheets) - self.changes.keys()
        together = {**self.base.sheets, **own}
        return replace(self.base, sheets=together, changes=self.changes, own=fresh, faults=tuple(self.faults))
