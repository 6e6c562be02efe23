"""Whether a file has the form its model asks for, told in our own words and with the line.

pydantic finds what does not fit; this module decides how that is said to the person who wrote the file, and
what to write instead. Whether well-formed parts make sense together is left to `journey.record.cross_checks`.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator
from collections.abc import Mapping as AnyMapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError, WithJsonSchema
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from journey.errors import Problem
from journey.record.model import Part
from journey.record.nodes import Mapping, Node, Scalar, Step, nearest, plain
from journey.record.scalars import NOTES_CONTEXT, quoted

M = TypeVar("M", bound=Part)
Route = tuple[Step, ...]

LONGEST_WORDS = 300
"""A problem stays one readable line, also where a whole text stands in place of a number."""


def fit(
    name: str, top: Mapping, model: type[M], open_note: Callable[[str], str]
) -> tuple[M | None, dict[Route, Problem]]:
    """Read a tree as a model.

    Args:
        name: the file's name, for problems.
        top: its tree.
        model: what it should be.
        open_note: gives the text of 'notes/...'; its ValueErrors become problems at the naming line.

    Returns:
        The model; or None, and one problem for every route in the tree that does not fit.
    """
    try:
        return model.model_validate(plain(top), context={NOTES_CONTEXT: open_note}), {}
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
    return None, {tuple(detail["loc"]): _problem(name, top, model, detail) for detail in details}


def without_echoes(misfits: AnyMapping[Route, Problem]) -> dict[Route, Problem]:
    """Leave out what another misfit explains: a list made short by a bad entry, a key that is misspelt."""
    above = {route[:length] for route in misfits for length in range(len(route))}
    spelt = {(*route[:-1], problem.instead.strip("'")) for route, problem in misfits.items() if route}
    return {
        route: problem
        for route, problem in misfits.items()
        if route not in above and not (route in spelt and "is missing" in problem.what)
    }


def _problem(name: str, top: Mapping, model: type[Part], detail: ErrorDetails) -> Problem:
    route: Route = tuple(detail["loc"])
    if detail["type"] == "missing":
        parent = nearest(top, route[:-1])
        what, instead = _missing(model, route)
        return Problem(name, parent.line, parent.place, what, instead)
    node = nearest(top, route)
    if detail["type"] == "extra_forbidden":
        parent, key = nearest(top, route[:-1]), str(route[-1])
        line = parent.key_lines.get(key, node.line) if isinstance(parent, Mapping) else node.line
        what, instead = _unknown(key, part_at(model, route[:-1]))
        return Problem(name, line, parent.place, what, instead)
    what, instead = _misfit(detail["type"], node, detail.get("ctx", {}), detail["msg"])
    what = what if len(what) <= LONGEST_WORDS else what[: LONGEST_WORDS - 3] + "..."
    if isinstance(node, Scalar) and not node.text.strip() and _can_be_left_out(model, route):
        instead += ", or leave the whole line out"
    return Problem(name, node.line, node.place, what, instead)


def _missing(model: type[Part], route: Route) -> tuple[str, str]:
    key = str(route[-1])
    part = part_at(model, route[:-1])
    field = part.model_fields.get(key) if part is not None else None
    examples = list(_examples(field)) if field is not None else []
    return f"{key!r} is missing", f"'{key}: {examples[0]}'" if examples else ""


def _unknown(key: str, part: type[BaseModel] | None) -> tuple[str, str]:
    known = sorted(part.model_fields) if part is not None else []
    close = difflib.get_close_matches(key.lower().replace("-", "_").replace(" ", "_"), known, n=1, cutoff=0.6)
    instead = repr(close[0]) if close else ("one of: " + ", ".join(known) if known else "")
    return f"the key {quoted(key)} is not known here", instead


def _misfit(kind: str, node: Node, context: AnyMapping[str, Any], message: str) -> tuple[str, str]:
    """What is wrong with a node that is there, and what to write instead."""
    written = node.text if isinstance(node, Scalar) else ""
    if kind == "value_error":
        what, _, instead = str(context["error"]).partition("; write ")
        return what, instead
    is_empty = isinstance(node, Scalar) and not written.strip()
    if kind in ("enum", "literal_error"):
        if not isinstance(node, Scalar):
            return "a single word is wanted here", str(context["expected"])
        return f"{quoted(written)} is not one of the words for this", str(context["expected"])
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return "nothing is written here" if is_empty else "'key: value' lines are wanted here", ""
    if kind == "tuple_type":
        what = "nothing is written here" if is_empty else "a list is wanted here"
        return what, "each entry on a line of its own after '- '"
    if kind in ("too_short", "too_long"):
        wanted = context.get("min_length", context.get("max_length"))
        return f"this list has {context['actual_length']} entries", f"{wanted} of them"
    bound = _bound(kind, context)
    return (f"{quoted(written)} is out of range", bound) if bound else (message[:1].lower() + message[1:], "")


def _bound(kind: str, context: AnyMapping[str, Any]) -> str:
    words = {
        "greater_than": ("gt", "a number above {:g}"),
        "greater_than_equal": ("ge", "a number from {:g} up"),
        "less_than": ("lt", "a number below {:g}"),
        "less_than_equal": ("le", "a number up to {:g}"),
    }
    if kind not in words:
        return ""
    name, form = words[kind]
    return form.format(context[name])


def _can_be_left_out(model: type[Part], route: Route) -> bool:
    part = part_at(model, route[:-1])
    field = part.model_fields.get(str(route[-1])) if part is not None else None
    return field is not None and not field.is_required()


def part_at(model: type[BaseModel], route: Route) -> type[BaseModel] | None:
    """The model that describes what stands at ``route``; None where that is no group of keys."""
    part: type[BaseModel] | None = model
    for step in route:
        if isinstance(step, int):
            continue  # a list's entries are described by the list's own annotation
        field = part.model_fields.get(step) if part is not None else None
        part = next(_parts_in(field.annotation), None) if field is not None else None
    return part


def _parts_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models named anywhere in an annotation: `tuple[Zone, ...]`, `Hair | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _parts_in(inner)


def _examples(field: FieldInfo) -> Iterator[str]:
    for entry in field.metadata:
        if isinstance(entry, WithJsonSchema) and entry.json_schema is not None:
            yield from (str(example) for example in entry.json_schema.get("examples", ()))
