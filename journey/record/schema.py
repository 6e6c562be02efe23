"""JSON Schemas of the four files, made from the models, for editors that complete and check while one types.

`python -m journey.record.schema` writes them beside this module. Decides how a field of text looks to an
editor: nothing is nullable (a field is left out instead), and yes and no are words. JSON Schema 2020-12.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from journey.record.model import Consent, Identity, Journey, Part, Salon

SCHEMAS: tuple[tuple[str, type[Part]], ...] = (
    ("salon", Salon),
    ("identity", Identity),
    ("consent", Consent),
    ("journey", Journey),
)
"""Name of the file (and of its schema), and what it holds."""

HERE = Path(__file__).parent


class TextSchema(GenerateJsonSchema):
    """Schemas of files in which every scalar is written as text."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """A field that may be left out is not a field that may be empty."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """A default as it would be written; none where there is nothing to write."""
        inner = self.generate_inner(schema["schema"])
        written = _as_written(schema.get("default"))
        return inner if written is None else {**inner, "default": written}


def _as_written(default: object) -> str | None:
    if default is None or default == ():
        return None
    if isinstance(default, bool):
        return "yes" if default else "no"
    return f"{default:g}" if isinstance(default, float) else str(default)


def schema_of(name: str, model: type[Part]) -> dict[str, Any]:
    """The JSON Schema of one file."""
    body = model.model_json_schema(schema_generator=TextSchema)
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"{name}.yaml"}
    return {**head, **{key: value for key, value in body.items() if key != "title"}}


def schema_text(name: str, model: type[Part]) -> str:
    """The same, as the bytes of the shipped file."""
    return json.dumps(schema_of(name, model), indent=1, ensure_ascii=False) + "\n"


def schema_file(name: str) -> Path:
    """Where a schema is shipped."""
    return HERE / f"{name}.schema.json"


def write_schemas() -> None:
    """Write every schema beside this module."""
    for name, model in SCHEMAS:
        schema_file(name).write_text(schema_text(name, model), encoding="utf-8")


if __name__ == "__main__":
    write_schemas()
