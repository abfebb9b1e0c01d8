"""What every IFC file begins with: units, contexts, building; and how things are named.

Identifiers follow from the roof and the key of the thing, so that the same roof writes
the same file.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from ..brief.model import Brief
from ..extras import extra
from ..report.cautions import CAUTION

Entity = Any  # of ifcopenshell, which has no types of its own
_SI = (
    ("LENGTHUNIT", "METRE"), ("AREAUNIT", "SQUARE_METRE"),
    ("VOLUMEUNIT", "CUBIC_METRE"), ("PLANEANGLEUNIT", "RADIAN"),
    ("FORCEUNIT", "NEWTON"), ("PRESSUREUNIT", "PASCAL"), ("MASSUNIT", "GRAM"),
    ("TIMEUNIT", "SECOND"),
)  # fmt: skip
_DERIVED = (  # kind, powers of newton and metre
    ("LINEARFORCEUNIT", 1, -1), ("LINEARSTIFFNESSUNIT", 1, -1),
    ("TORQUEUNIT", 1, 1), ("MODULUSOFELASTICITYUNIT", 1, -2),
)  # fmt: skip


class Book:
    """An IFC file in the making.

    Attributes:
        file: ifcopenshell's file.
        body, axis, reference: contexts of representations.
        storey, building, project: of the spatial structure.
    """

    def __init__(self, brief: Brief):
        """Begin the file of a roof.

        Raises:
            ExtraError: ifcopenshell is not installed.
        """
        self._guid = extra("ifcopenshell.guid")
        self.file: Entity = extra("ifcopenshell").file(schema="IFC4")
        self._name = brief.name
        self._header()
        units = self._units()
        main = self.make(
            "GeometricRepresentationContext", ContextType="Model",
            CoordinateSpaceDimension=3, Precision=1e-6,
            WorldCoordinateSystem=self.placement3((0.0, 0.0, 0.0)),
        )  # fmt: skip
        self.body, self.axis, self.reference = (
            self.make(
                "GeometricRepresentationSubContext", ContextIdentifier=name,
                ContextType="Model", ParentContext=main, TargetView=view,
            )
            for name, view in (
                ("Body", "MODEL_VIEW"), ("Axis", "GRAPH_VIEW"),
                ("Reference", "GRAPH_VIEW"),
            )
        )  # fmt: skip
        self.project = self.root(
            "Project", "project", Name=brief.name, Description=CAUTION,
            RepresentationContexts=[main], UnitsInContext=units,
        )  # fmt: skip
        self._space()

    def make(self, kind: str, **values: object) -> Entity:
        """Return a new entity; its class without ``Ifc``."""
        return self.file.create_entity(f"Ifc{kind}", **values)

    def root(self, kind: str, key: str, **values: object) -> Entity:
        """Return a new entity with an identifier that follows from a key."""
        made = uuid5(NAMESPACE_URL, f"loadfall/{self._name}/{kind}/{key}")
        return self.make(kind, GlobalId=self._guid.compress(made.hex), **values)

    def point(self, place: Iterable[float]) -> Entity:
        """Return a point."""
        return self.make("CartesianPoint", Coordinates=[float(v) for v in place])

    def direction(self, way: Iterable[float]) -> Entity:
        """Return a direction."""
        return self.make("Direction", DirectionRatios=[float(v) for v in way])

    def placement3(
        self, place: Sequence[float], axis: Iterable[float] | None = None,
        ref: Iterable[float] | None = None,
    ) -> Entity:  # fmt: skip
        """Return axes at a place; left out, those of the world."""
        if axis is None or ref is None:
            return self.make("Axis2Placement3D", Location=self.point(place))
        return self.make(
            "Axis2Placement3D", Location=self.point(place), Axis=self.direction(axis),
            RefDirection=self.direction(ref),
        )  # fmt: skip

    def local(self, relative: Entity, placement: Entity | None = None) -> Entity:
        """Return a local placement relative to another, or to none."""
        placement = placement or self.placement3((0.0, 0.0, 0.0))
        return self.make(
            "LocalPlacement", PlacementRelTo=relative, RelativePlacement=placement
        )

    def _units(self) -> Entity:
        """Return the units of the file: SI."""
        made = {
            kind: self.make("SIUnit", UnitType=kind, Name=name) for kind, name in _SI
        }
        out = list(made.values())
        for kind, force, length in _DERIVED:
            elements = [
                self.make("DerivedUnitElement", Unit=made[base], Exponent=power)
                for base, power in (("FORCEUNIT", force), ("LENGTHUNIT", length))
            ]
            out.append(self.make("DerivedUnit", UnitType=kind, Elements=elements))
        return self.make("UnitAssignment", Units=out)

    def _space(self) -> None:
        """Add site, building and storey."""
        above, relative = self.project, None
        for kind in ("Site", "Building", "BuildingStorey"):
            relative = self.local(relative)
            name = "Roof" if kind == "BuildingStorey" else self._name
            part = self.root(
                kind, "space", Name=name, ObjectPlacement=relative,
                CompositionType="ELEMENT",
            )  # fmt: skip
            self.root(
                "RelAggregates", kind, RelatingObject=above, RelatedObjects=[part]
            )
            above = part
            if kind == "Building":
                self.building = part
        self.storey = above

    def _header(self) -> None:
        """Fill the header with nothing that changes from one day to the next."""
        head = self.file.header
        head.file_name.name = "roof.ifc"
        head.file_name.time_stamp = "1970-01-01T00:00:00"
        head.file_name.author = ("Loadfall",)
        head.file_name.originating_system = "Loadfall"
        head.file_description.description = ("ViewDefinition [StructuralAnalysisView]",)
