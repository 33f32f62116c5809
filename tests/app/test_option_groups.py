"""Groups of options: one parameter of a command, many on the command line."""

import inspect
from dataclasses import dataclass
from typing import Annotated

import pytest
import typer
from typer.testing import CliRunner

from carrybook.app.cli import app as carrybook
from carrybook.app.option_groups import AirParts, AirSaid, Said, WindSaid, grouped
from carrybook.base.errors import BadInputError
from carrybook.world.air import REFERENCE_DAY

RUNNER = CliRunner()


@dataclass(frozen=True)
class _Pair(Said):
    first: Annotated[str, typer.Option(metavar="WORD", help="Must be said.")]
    second: Annotated[str | None, typer.Option("--other", help="May be said.")] = None


@dataclass(frozen=True)
class _Single(Said):
    alone: Annotated[int, typer.Option(help="A number.")] = 7


def _app() -> typer.Typer:
    app = typer.Typer()

    @app.command()
    @grouped
    def say(
        name: Annotated[str, typer.Argument()],
        *,
        pair: _Pair,
        loud: Annotated[bool, typer.Option("--loud")] = False,
        single: _Single,
    ) -> None:
        """Say it."""
        typer.echo(f"{name} {pair.typed()} {loud} {single.alone}")

    return app


def test_every_option_of_a_group_is_one_of_the_command() -> None:
    said = RUNNER.invoke(_app(), ["x", "--first", "a", "--other", "b", "--alone", "9", "--loud"])
    assert said.output == "x {'first': 'a', 'second': 'b'} True 9\n"
    assert RUNNER.invoke(_app(), ["x", "--first", "a"]).output == (
        "x {'first': 'a', 'second': None} False 7\n"
    )


def test_what_must_be_said_is_asked_for_and_help_stands() -> None:
    assert RUNNER.invoke(_app(), ["x"]).exit_code == 2
    shown = RUNNER.invoke(_app(), ["--help"]).output
    order = [shown.index(option) for option in ("--first", "--other", "--loud", "--alone")]
    assert order == sorted(order)
    assert "Say it." in shown
    assert "pair" not in shown


def test_a_flat_command_has_the_parameters_of_its_groups_in_their_place() -> None:
    @grouped
    def command(ctx: typer.Context, *, pair: _Pair, last: int = 1) -> None: ...

    assert list(inspect.signature(command).parameters) == ["ctx", "first", "second", "last"]


@pytest.mark.parametrize(
    ("command", "options"),
    [
        (("leave",), ("--map", "--lie", "--metar", "--at", "--gust", "--surroundings", "--kind")),
        (("plan",), ("--map", "--lie", "--metar", "--at", "--gust", "--surroundings", "--kind")),
        (("choose",), ("--forecast", "--at", "--gust", "--surroundings")),
        (("card",), ("--forecast", "--at", "--gust", "--surroundings")),
        (("numbers",), ("--forecast", "--at", "--wind-from", "--surroundings")),
        (("fly",), ("--temp", "--humidity", "--metar", "--surroundings")),
        (("air",), ("--temp", "--humidity", "--metar")),
        (("bag", "gaps"), ("--demand", "--from", "--map", "--heights", "--gust", "--lofts")),
        (("bag", "tryout"), ("--for", "--map", "--surroundings", "--firmness")),
    ],
)
def test_commands_keep_their_options(command: tuple[str, ...], options: tuple[str, ...]) -> None:
    shown = RUNNER.invoke(carrybook, [*command, "--help"], env={"COLUMNS": "300"}).output
    assert [option for option in options if option not in shown] == []


def test_air_and_wind_are_read_as_their_forms_read_them() -> None:
    assert AirSaid().weather().air == REFERENCE_DAY
    assert AirSaid(air="9C").weather() == AirParts(temp="9C").weather()
    assert WindSaid(wind="10mps", wind_from="90deg", gust="12mps").form().value().gust_mps == 12.0
    with pytest.raises(BadInputError, match="wind direction = 90deg has no wind"):
        WindSaid(wind_from="90deg").form()
