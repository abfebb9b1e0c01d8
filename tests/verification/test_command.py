"""``loadfall verify``: what it prints and how it ends."""

import pytest
from loadfall.solver import cli
from loadfall.solver.verification import Compared


def run(capsys, *arguments):
    status = cli.main(["verify", *arguments])
    return status, capsys.readouterr().out.splitlines()


def test_prints_every_check_and_a_closing_line(capsys):
    status, lines = run(capsys)
    assert status == 0
    count = int(lines[-1].split()[0])
    assert lines[-1] == f"{count} of {count} agree."
    assert count >= 120
    assert sum(line.startswith("  CV-") for line in lines) == count


def test_short_prints_a_line_for_each_source(capsys):
    status, lines = run(capsys, "--short")
    assert status == 0
    assert not any(line.startswith("  ") for line in lines)
    assert "IRC 2018 Table R802.5.1(2)" in "".join(lines)


@pytest.mark.parametrize("arguments", [(), ("--short",)])
def test_a_number_that_differs_is_shown_and_ends_with_1(capsys, monkeypatch, arguments):
    wrong = Compared("CV-1", "A table", "seen", "a span", "in", 100.0, 101.2, 0.5)
    right = Compared("CV-2", "A table", "memory", "a span", "in", 100.0, 100.4, 0.5)
    monkeypatch.setattr(cli, "run_checks", lambda: [wrong, right])
    status, lines = run(capsys, *arguments)
    assert status == 1
    assert lines[-1] == "1 of 2 agree."
    assert lines[0] == "A table: 1 of 2 agree (seen, memory)"
    shown = [line for line in lines if line.startswith("  CV-1 ")]
    assert len(shown) == 1
    assert shown[0].endswith("+1.2  DOES NOT AGREE")
