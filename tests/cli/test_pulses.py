"""The command that says what to enter in an output test."""

from pathlib import Path

import pytest

from harnessgen.cli.main import main

DESIGNS = Path(__file__).parents[2] / "designs"


def test_it_prints_what_to_enter(capsys: pytest.CaptureFixture[str]) -> None:
    """120000 / 3000 rpm are 40 ms; half a second holds ten of them at most."""
    assert main(["pulses", str(DESIGNS / "flat-six.yaml"), "--speed", "3000", "--seconds", "0.2"]) == 0
    out = capsys.readouterr().out
    assert "Q1, with its loads, at 3000 rpm:" in out
    assert "on in every 40 ms" in out
    assert "5 pulses, 0.2 s" in out


def test_as_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    """One row for each output, speed and load."""
    assert main(["pulses", str(DESIGNS / "flat-six.yaml"), "--speed", "600", "--speed", "900", "--format", "csv"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert rows[0].startswith("output,meanwhile,with,speed,period,on")
    assert len(rows) == 1 + 2 * 2 * 2


def test_where_nothing_is_pulsed_and_what_is_no_speed(capsys: pytest.CaptureFixture[str]) -> None:
    """A design without a pulsed output says so; a speed of nothing is refused with the word that is wrong."""
    assert main(["pulses", str(DESIGNS / "twin-fans.yaml")]) == 0
    assert "nothing to pulse" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["pulses", str(DESIGNS / "flat-six.yaml"), "--speed", "0"])
    assert "0 is no number above 0" in capsys.readouterr().err
    assert main(["pulses", "no-such.yaml"]) == 2


def test_it_cautions_where_fuel_and_sparks_are_near(capsys: pytest.CaptureFixture[str]) -> None:
    """Ignition, fuel, high voltage and live parts are spoken of before anything is pulsed by it."""
    main(["pulses", str(DESIGNS / "flat-six.yaml"), "--speed", "600"])
    out = capsys.readouterr().out
    for word in ("Ignition:", "Fuel:", "High voltage:", "Live parts:"):
        assert word in out
