"""The brief: what the user states of a roof, read from and written to JSON."""

from .fields import read_record, write_record
from .io import example_text, load_brief, parse_brief, read_brief, save_text, schema
from .model import SCHEMA_VERSION, Brief
from .validate import validate

__all__ = [
    "SCHEMA_VERSION",
    "Brief",
    "example_text",
    "load_brief",
    "parse_brief",
    "read_brief",
    "read_record",
    "save_text",
    "schema",
    "validate",
    "write_record",
]
