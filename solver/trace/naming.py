"""Many member keys as a reader says them: neighbours of a row drawn together."""

from __future__ import annotations

from .wording import listed


def named(keys: tuple[str, ...], most: int = 6) -> str:
    """Return member keys in few words.

    Args:
        keys: in any order.
        most: groups named; what is left is counted.

    Returns:
        Such as ``CJ-01-1 to CJ-05-1, every second of R-S-02 to R-S-08 and RIDGE``.
    """
    groups = [group for run in _runs(keys) for group in _groups(run)]
    words = [text for text, _ in groups[:most]]
    rest = sum(count for _, count in groups[most:])
    return listed([*words, f"{rest} more"] if rest else words)


def _runs(keys: tuple[str, ...]) -> list[list[str]]:
    """Return the keys in runs of one step, 1 or 2."""
    runs: list[list[str]] = []
    for key in sorted(keys, key=_order):
        if runs and _goes_on(runs[-1], key):
            runs[-1].append(key)
        else:
            runs.append([key])
    return runs


def _groups(run: list[str]) -> list[tuple[str, int]]:
    """Return what is said of a run, with the number of keys it stands for."""
    if len(run) < 3:
        return [(key, 1) for key in run]
    step = _split(run[1])[1][0] - _split(run[0])[1][0]
    every = "" if step == 1 else "every second of "
    return [(f"{every}{run[0]} to {run[-1]}", len(run))]


def _order(key: str) -> tuple[str, tuple[int, ...]]:
    """Return a sort key that brings the neighbours of a row together."""
    words, numbers = _split(key)
    return words, tuple(reversed(numbers))


def _split(key: str) -> tuple[str, tuple[int, ...]]:
    """Return the words and the numbers of a key."""
    parts = key.split("-")
    numbers = tuple(int(p) for p in parts if p.isdecimal())
    return "-".join("" if p.isdecimal() else p for p in parts), numbers


def _goes_on(run: list[str], key: str) -> bool:
    """Return whether a key goes on with a run at its step."""
    (words, last), (other, new) = _split(run[-1]), _split(key)
    if words != other or not new or last[1:] != new[1:]:
        return False
    step = new[0] - last[0]
    if len(run) == 1:
        return step in (1, 2)
    return step == last[0] - _split(run[-2])[1][0]
