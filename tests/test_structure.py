"""The house in order: who imports whom, what rules never touch, how long a function may be, documents that are true."""

import ast
import re
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from app.cli import _parser
from app.settings import DATA_VARIABLE

ROOT = Path(__file__).parent.parent
APP = ROOT / "app"

# A part, and which parts of ours it may import besides itself. `DEVELOPERS.md` says the same in words.
MAY = {
    "errors": set(),
    "units": set(),
    "trade": {"errors", "units"},
    "rules": {"trade", "errors"},
    "sheets": {"rules", "trade", "errors", "units"},
    "records": {"rules", "errors"},
    "services": {"rules", "sheets", "records", "trade", "errors", "units", "feed", "settings"},
    "feed": {"rules"},
    "settings": set(),
    "web": {"services", "rules", "sheets", "errors", "units", "settings"},
    "main": {"services", "web", "settings", "errors"},
    "certificates": {"errors"},
    "serving_https": {"certificates", "errors"},
    "serving": {"main", "services", "settings", "errors", "records", "serving_https"},
    "arguments": {"rules"},
    "cli": {"arguments", "serving", "services", "sheets", "rules", "settings", "errors"},
}
# What may be taken from a part whose values are wanted, but whose workings are not.
TYPES_ONLY = {
    ("records", "rules"): {
        "app.rules.moment",
        "app.rules.sheet",
        "app.rules.step",
        "app.rules.terms",
        "app.rules.facts",
        "app.rules.tasks",
        "app.rules.spans",
        "app.rules.keys",
    },
    ("feed", "rules"): {"app.rules.facts", "app.rules.tasks", "app.rules.spans"},
}
# The dates of jobs must not hang on any of these.
BANNED_MODULES = {
    "os", "pathlib", "random", "secrets", "time", "io", "sqlite3", "sqlmodel", "sqlalchemy", "fastapi", "starlette",
    "jinja2", "socket", "urllib", "httpx", "subprocess", "logging", "threading", "asyncio",
}  # fmt: skip
BANNED_CALLS = {"open", "today", "now", "utcnow", "print", "input", "exec", "eval", "getenv"}


def modules(part: str = "") -> list[Path]:
    """The Python files of a part: a folder or a single module; all of them when none is named."""
    if part and (APP / f"{part}.py").is_file():
        return [APP / f"{part}.py"]
    return sorted((APP / part).rglob("*.py"))


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def imported(path: Path) -> Iterator[tuple[str, int]]:
    """Every module a file imports, with its line; a `from app.web import x` counts as `app.web.x` where that is one."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: import by the whole name, not relative to the file"
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield (inner if _is_module(inner) else str(node.module)), node.lineno


@cache
def _is_module(name: str) -> bool:
    path = ROOT / Path(*name.split("."))
    return path.is_dir() or path.with_suffix(".py").is_file()


def part_of(name: str) -> str:
    return name.split(".")[1] if name.startswith("app.") else ""


def test_every_part_of_the_house_is_in_the_rules() -> None:
    parts = {path.stem for path in APP.iterdir() if path.is_dir() or path.suffix == ".py"}
    assert parts - {"__init__", "__pycache__"} == set(MAY)


@pytest.mark.parametrize("part", sorted(MAY))
def test_a_part_imports_only_what_it_may(part: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line} imports {name}"
        for path in modules(part)
        for name, line in imported(path)
        if part_of(name) and part_of(name) not in MAY[part] | {part}
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(("part", "other"), sorted(TYPES_ONLY))
def test_types_are_imported_and_never_workings(part: str, other: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line} imports {name}"
        for path in modules(part)
        for name, line in imported(path)
        if part_of(name) == other and name not in TYPES_ONLY[part, other]
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("part", ["trade", "rules"])
def test_rules_know_no_clock_no_files_no_database_and_no_web(part: str) -> None:
    wrong = []
    for path in modules(part):
        wrong += [f"{path}:{line} imports {n}" for n, line in imported(path) if n.split(".")[0] in BANNED_MODULES]
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                if name in BANNED_CALLS:
                    wrong.append(f"{path}:{node.lineno} calls {name}()")
    assert not wrong, "\n".join(wrong)


def test_services_know_no_request() -> None:
    wrong = [
        f"{path}:{line} imports {name}"
        for path in [*modules("services"), *modules("records"), *modules("sheets"), *modules("feed")]
        for name, line in imported(path)
        if name.split(".")[0] in ("fastapi", "starlette", "jinja2", "uvicorn")
    ]
    assert not wrong, "\n".join(wrong)


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Each function of a file, and how many lines it has without its docstring."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            doc = node.body[0] if ast.get_docstring(node) else None
            idle = 0 if doc is None or doc.end_lineno is None else doc.end_lineno - doc.lineno + 1
            assert node.end_lineno is not None
            yield f"{path.relative_to(ROOT)}:{node.lineno} {node.name}", node.end_lineno - node.lineno + 1 - idle


def test_no_function_is_longer_than_a_screen() -> None:
    long = [f"{name}: {lines} lines" for path in modules() for name, lines in functions(path) if lines > 50]
    assert not long, "\n".join(long)


def test_everything_public_says_what_it_is() -> None:
    bare = []
    for path in modules():
        if "migrations" in path.parts:
            continue
        body = tree(path).body
        if path.read_text(encoding="utf-8").strip() and not ast.get_docstring(ast.Module(body, [])):
            bare.append(str(path.relative_to(ROOT)))
        bare += [
            f"{path.relative_to(ROOT)}:{node.lineno} {node.name}"
            for node in body
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
            and not node.name.startswith("_")
            and not ast.get_docstring(node)
            and not any(getattr(one, "attr", "") in ("get", "post") for one in _decorators(node))
        ]
    assert not bare, "\n".join(bare)


def _decorators(node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) -> list[ast.expr]:
    return [one.func if isinstance(one, ast.Call) else one for one in node.decorator_list]


# ── Documents that cannot lie ─────────────────────────────────────────────────────────────────────────────────────


def document(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def make_targets() -> set[str]:
    return set(re.findall(r"^([a-z]+):.*##", document("Makefile"), re.MULTILINE))


def commands() -> set[str]:
    """The command's words: "serve", "sheets check"."""
    found = set()
    for name, parser in _parser()._subparsers._group_actions[0].choices.items():  # type: ignore[union-attr]
        inner = parser._subparsers
        found |= {f"{name} {each}" for each in inner._group_actions[0].choices} if inner else {name}
    return found


def options(command: str) -> set[str]:
    words = command.split()
    parser = _parser()
    for word in words:
        parser = parser._subparsers._group_actions[0].choices[word]  # type: ignore[union-attr]
    return {option for action in parser._actions for option in action.option_strings}


def test_every_make_target_is_told_and_every_target_told_is_there() -> None:
    told = document("README.md") + document("DEVELOPERS.md")
    named = set(re.findall(r"`make ([a-z]+)", told)) | set(re.findall(r"^make ([a-z]+)", told, re.MULTILINE))
    assert named == make_targets() - {"help"} | (named & {"help"})


def test_every_command_is_told_and_every_command_told_is_there() -> None:
    told = document("README.md") + document("DEVELOPERS.md")
    for command in commands():
        assert f"twelvemonth {command}" in told, f"no document names 'twelvemonth {command}'"
    for first, second in re.findall(r"twelvemonth ([a-z]+)(?: ([a-z]+))?", told):
        assert first in commands() or f"{first} {second}" in commands(), f"there is no command '{first} {second}'"


def test_every_option_told_is_there() -> None:
    told = document("README.md") + document("DEVELOPERS.md")
    lines = re.findall(r"twelvemonth ((?:sheets )?[a-z]+)([^`\n]*)", told)
    wrong = [
        f"{command} has no {option}"
        for command, rest in lines
        if command in commands()
        for option in re.findall(r"--[a-z-]+", rest)
        if option not in options(command)
    ]
    assert not wrong


def test_every_setting_is_told_and_every_setting_told_is_there() -> None:
    used = {DATA_VARIABLE}
    for path in modules():
        used |= set(re.findall(r'"(TWELVEMONTH_[A-Z_]+)"', path.read_text(encoding="utf-8")))
    told = set(re.findall(r"TWELVEMONTH_[A-Z_]+", document("README.md") + document("DEVELOPERS.md")))
    assert told == used


def test_every_file_a_document_names_is_there() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        for path in re.findall(r"`((?:app|tests|templates|static|demo_data)/[\w/.-]+)`", document(name)):
            assert (ROOT / path).exists(), f"{name} names {path}"


# ── What is committed ─────────────────────────────────────────────────────────────────────────────────────────────


def committed() -> list[str]:
    try:
        listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this is no git checkout")
    return listed.stdout.splitlines()


def test_no_library_of_others_is_committed() -> None:
    assert not [name for name in committed() if re.search(r"htmx[^/]*\.js$|\.min\.", name)]


def test_only_what_belongs_there_stands_at_the_top() -> None:
    top = {name.split("/")[0] for name in committed() if not name.startswith(".")}
    assert top == {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "Makefile", "constraints.txt", "app", "templates", "static",
        "tests", "demo_data",
    }  # fmt: skip


NOT_IN_A_PAGE = r"\sstyle=|\son[a-z]+=|<style|javascript:|<script(?![^>]*\bsrc=)[^>]*>"


def test_templates_carry_neither_style_nor_script() -> None:
    """The page's policy allows neither (W3C Content Security Policy Level 3, 6.6)."""
    wrong = [
        f"{path.name}: {found}"
        for path in sorted((ROOT / "templates").rglob("*.html"))
        for found in re.findall(
            r"\sstyle=|\son[a-z]+=|<style|javascript:|<script(?![^>]*\bsrc=)[^>]*>", path.read_text()
        )
    ]
    assert not wrong


def test_demo_data_says_that_it_is_invented() -> None:
    files = sorted((ROOT / "demo_data").glob("*"))
    assert files
    for path in files:
        assert path.read_text(encoding="utf-8").splitlines()[0].startswith("# INVENTED"), path.name
