"""The documentation knows every source, every name and every command that the code has.

A citation, in a comment or docstring, is a key of lower-case words and a year ("penner-2002-run");
a standard ("RFC 7946"), whose key is the same in lower case; or any other year from 1940 on
("Penner 2001"): then a row of sources.md has that year, and a key whose first word is named too.
Keys without a year stand in a list at the top of sources.md, and each must be cited somewhere.
"""

import ast
import importlib
import inspect
import io
import pkgutil
import re
import tokenize
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from itertools import groupby
from pathlib import Path

import pytest
import typer

from carrybook.app.cli import app
from carrybook.base.numerics import plain
from carrybook.decision.advice import Trouble

ROOT = Path(__file__).parents[2]
NAMES, SOURCES = ((ROOT / f"docs/{p}.md").read_text("utf-8") for p in ("names", "sources"))
CODE = sorted(p for room in ("src", "tests") for p in (ROOT / room).rglob("*.py"))
CODE.remove(Path(__file__))  # its own examples and patterns
ROWS = {m[1]: m[0] for m in re.finditer(r"^\| `([a-z0-9-]+)` .*$", SOURCES, re.MULTILINE)}
NO_YEAR = set(re.findall(r"`([a-z0-9-]+)`", SOURCES.split("without a year:")[1].split("\n\n")[1]))

KEY = re.compile(r"(?<![\w/-])[a-z]+(?:-[a-z]+)*-(?:19|20)\d\d(?:-[a-z0-9]+)*\b")
STANDARD = re.compile(r"\b(?:RFC|ISO|NIST SP|OIML R) \d+")
YEAR = re.compile(r"(?<![\w.,-])(?:19[4-9]|20[0-3])\d(?![\w.%-]| yd| rpm)")


def remarks(path: Path) -> list[str]:
    """Docstrings of a file, and its comments, those on neighbouring lines joined."""
    text = path.read_text("utf-8")
    nodes = (ast.Module, ast.ClassDef, ast.FunctionDef)
    said = [ast.get_docstring(n) or "" for n in ast.walk(ast.parse(text)) if isinstance(n, nodes)]
    tokens = tokenize.generate_tokens(io.StringIO(text).readline)
    comments = enumerate(t for t in tokens if t.type == tokenize.COMMENT)
    blocks = groupby(comments, key=lambda numbered: numbered[1].start[0] - numbered[0])
    return said + [" ".join(t.string.lstrip("# ") for _, t in block) for _, block in blocks]


def test_every_source_that_is_cited_is_listed() -> None:
    for path, remark in ((p, r) for p in CODE for r in remarks(p)):
        standards = {s.lower().replace(" ", "-") for s in STANDARD.findall(remark)}
        assert {*KEY.findall(remark), *standards} - ROWS.keys() == set(), path
        named = [row for key, row in ROWS.items() if key.split("-")[0] in remark.lower()]
        for year in YEAR.findall(KEY.sub("", remark)):
            assert any(year in row for row in named), f"{path}: {year} in: {remark}"


def test_keys_without_a_year_are_listed_and_cited() -> None:
    assert {key for key in ROWS if not KEY.fullmatch(key)} == NO_YEAR
    cited = " ".join(remark for path in CODE for remark in remarks(path)).lower()
    assert {key for key in NO_YEAR if key not in cited.replace(" ", "-")} == set()


def public() -> Iterator[tuple[str, object]]:
    for room in ("base", "world", "physics", "player", "outcomes", "decision"):
        for info in pkgutil.iter_modules([str(ROOT / "src/carrybook" / room)]):
            module = importlib.import_module(f"carrybook.{room}.{info.name}")
            yield from ((name, getattr(module, name)) for name in getattr(module, "__all__", ()))


def test_every_public_field_number_and_kernel_row_has_a_name() -> None:
    sections = re.split(r"^#{2,3} ", NAMES, flags=re.MULTILINE)
    for name, thing in public():
        known, wanted = NAMES, set[str]()
        if isinstance(thing, type) and is_dataclass(thing):
            (known,) = (s for s in sections if f"`{name}`" in s.splitlines()[0])
            wanted = {f.name for f in fields(thing)}
        elif isinstance(thing, tuple) and name.endswith("_ROW"):
            (known,) = (row for row in NAMES.splitlines() if row.startswith(f"| `{name}` |"))
            wanted = set(thing)
        elif callable(thing) and inspect.isfunction(plain(thing)):
            given = inspect.signature(plain(thing)).parameters.values()
            wanted = {p.name for p in given if re.search("float", str(p.annotation))}
        assert {w for w in wanted if f"`{w}`" not in known} == set(), name


@pytest.mark.parametrize(
    "said",
    [
        "air: air_view",
        "bag fit: bag_fit_view _faced _bag _played _saving air_part",
        "bag gaps: bag_gaps_view _faced _played _saving air_part",
        "bag tryout: bag_tryout_view _faced _felt_gap _saving air_part",
        "bag whatif: bag_whatif_view _faced _saving air_part",
        "balls check: check_view",
        "card: card_view checked_view _partials _strip _fact air_part",
        "choose: advice_view _situation _option air_part location_part",
        "feel: feel_view _gap",
        "firmness: firmness_view",
        "fly: flown_view",
        "ground show: ground_view _judged _places location_part",
        "land: landed_view",
        "learn --check: coverage_view",
        "learn: learnt_view _shot _interval",
        "leave: leave_view _distance _against air_part",
        "numbers: numbers_view _number air_part ball_part for_view _day state_view",
        "plan: plan_view cell_part left_out_part lay_up_part air_part",
        "prepare: week_view _prepared _half_day _belief _hole_day _moved venue_part note_part"
        " hour_part air_part",
        "practise history: history_view _struck _change",
        "practise plan: practise_plan_view _leak _step _planned _standing",
        "practise status: now_view _target _scored _summary _mean _result _standing",
        "putt: putt_view",
        "review: review_view _part_sum _review_pattern _review_cost _split_shot",
        "round status: round_view",
        "venue show: page_view venues_view _known venue_part note_part hour_part air_part",
        "round shots: round_shots_view round_shot_part _facts",
        "shots explain: explained_view _whatif _effect air_part",
    ],
)
def test_every_json_key_has_a_name(said: str) -> None:
    command, functions = said.split(":")
    files = sorted((ROOT / "src/carrybook/app/json_views").glob("*.py"))
    body = [node for file in files for node in ast.parse(file.read_text("utf-8")).body]
    views = [f for f in body if getattr(f, "name", "") in functions.split()]
    shown = [node for view in views for node in ast.walk(view) if isinstance(node, ast.Dict)]
    keys = {str(k.value) for node in shown for k in node.keys if isinstance(k, ast.Constant)}
    keys |= {kind.replace(" ", "_") for kind in Trouble} if command == "choose" else set()
    section = NAMES.split(f"### `{command} --json`")[1].split("\n#")[0]
    assert len(views) == len(functions.split())
    assert {key for key in keys if f"`{key}`" not in section} == set()


def test_every_command_is_in_the_readme() -> None:
    def paths(group: object, before: str) -> list[str]:
        inside = getattr(group, "commands", {}).items()
        return [p for name, each in inside for p in paths(each, f"{before} {name}")] or [before]

    readme = (ROOT / "README.md").read_text("utf-8")
    assert [c for c in paths(typer.main.get_command(app), "carrybook") if c not in readme] == []


def test_nothing_outside_the_project_is_named() -> None:
    alien = re.compile(r"shared[/]|\bthe seed\b|\bseed's\b|\bSEAMS\b|(?:PHYSICS|TRADE|STYLE)\.md")
    texts = [*CODE, *(ROOT / "docs").rglob("*.md"), *ROOT.glob("*.md"), *ROOT.glob("tools/*.py")]
    assert [str(path) for path in texts if alien.search(path.read_text("utf-8"))] == []
