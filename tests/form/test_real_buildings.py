"""Every building footprint of an open data set gets a roof, or a refusal by name.

The footprints are OpenStreetMap's (Bubeneč, Prague; Open Database Licence), as the
package momepy carries them for its own examples. Only its data file is read.
"""

import importlib.util
import sqlite3
import struct
from pathlib import Path

import numpy as np
import pytest
from loadfall.solver.errors import BriefError
from loadfall.solver.form import EdgeSpec, roof_from_outline

from .shapes import assert_closed

PACKAGE = importlib.util.find_spec("momepy")
DATA = (
    Path(PACKAGE.origin).parent / "datasets" / "bubenec.gpkg"
    if PACKAGE is not None and PACKAGE.origin is not None
    else None
)
pytestmark = pytest.mark.skipif(DATA is None, reason="momepy is not installed")
ENVELOPE = (0, 32, 48, 48, 64)  # bytes, by GeoPackage flag


def polygons_of(blob):
    """The rings of every polygon in a GeoPackage geometry."""
    start = 8 + ENVELOPE[(blob[3] >> 1) & 7]
    found, _ = _read(blob, start)
    return found


def _read(blob, at):
    order = "<" if blob[at] else ">"
    (kind,) = struct.unpack_from(order + "I", blob, at + 1)
    (count,) = struct.unpack_from(order + "I", blob, at + 5)
    at += 9
    if kind % 1000 == 6:
        polygons = []
        for _ in range(count):
            part, at = _read(blob, at)
            polygons += part
        return polygons, at
    assert kind == 3
    rings = []
    for _ in range(count):
        (size,) = struct.unpack_from(order + "I", blob, at)
        points = np.frombuffer(blob, order + "f8", 2 * size, at + 4).reshape(size, 2)
        rings.append(points[:-1])
        at += 4 + 16 * size
    return [rings], at


def footprints():
    with sqlite3.connect(f"file:{DATA}?mode=ro&immutable=1", uri=True) as data:
        column = data.execute(
            "select column_name from gpkg_geometry_columns"
            " where table_name = 'buildings'"
        ).fetchone()[0]
        rows = data.execute(f'select "{column}" from buildings').fetchall()
    return [rings for (blob,) in rows for rings in polygons_of(blob)]


def test_every_building_is_roofed_or_refused(record_property):
    roofed, refused, worst = 0, [], 0.0
    for outer, *holes in footprints():
        try:
            form = roof_from_outline(outer, EdgeSpec(0.5, overhang=0.4), holes)
        except BriefError as error:
            refused.append(error.field)
            continue
        assert_closed(form)
        worst = max(worst, form.area_error)
        roofed += 1
    record_property("roofed", roofed)
    record_property("refused", ",".join(refused))
    assert roofed + len(refused) >= 140
    assert set(refused) <= {"holes"}  # every simple outline has a roof
    assert worst < 1e-9


def test_every_building_with_mixed_pitches():
    """Neighbours in one straight line share a pitch; all else has its own."""
    refused = []
    for number, (outer, *holes) in enumerate(footprints()):
        chance = np.random.default_rng(number)
        side = np.roll(outer, -1, axis=0) - outer
        bearing = np.round(np.degrees(np.arctan2(*side.T[::-1])) / 20) % 18
        pitch = chance.choice([0.25, 0.5, 0.75, 1.0], 18)
        specs = [EdgeSpec(float(pitch[int(b)])) for b in bearing]
        try:
            assert_closed(roof_from_outline(outer, specs, holes))
        except BriefError as error:
            refused.append(str(error))
    assert all("holes" in text or "one straight line" in text for text in refused)
    assert len(refused) < 10
