"""A value that identifies someone, in a wrapping that refuses to become text.

It decides that a name, a phone number or a birthday can travel through the programme without ever being
printed by accident: `repr` says `<private>`, and every other road to text raises. `reveal` is the only way
out and asks why. Which fields of the record are private is left to the record's model.
"""

from __future__ import annotations

from typing import Any, Generic, NoReturn, Self, TypeVar, get_args

from pydantic import GetCoreSchemaHandler
from pydantic_core import core_schema

T = TypeVar("T")

PLACEHOLDER = "<private>"


class PrivateTextError(TypeError):
    """Something tried to turn a private value into text, bytes or a pickle without giving a reason."""

    def __init__(self, road: str) -> None:
        super().__init__(f"a private value was about to leave by {road}; use reveal(value, because=...)")


class Private(Generic[T]):
    """One identifying value, frozen. Usable as a field type: `Private[str]`, `Private[date]`.

    Two wrappings of equal values are equal and hash alike, so that frozen records compare. A model that
    holds one should set `hide_input_in_errors`, as pydantic otherwise quotes the raw input in its errors.
    """

    __slots__ = ("__value",)

    def __init__(self, value: T) -> None:
        object.__setattr__(self, "_Private__value", value)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError("a private value is frozen")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError("a private value is frozen")

    def __repr__(self) -> str:
        return PLACEHOLDER

    def __str__(self) -> NoReturn:
        raise PrivateTextError("str()")

    def __format__(self, spec: str) -> NoReturn:
        raise PrivateTextError("format()")

    def __html__(self) -> NoReturn:
        """Template engines ask for this before they ask for `str`."""
        raise PrivateTextError("a template")

    def __bytes__(self) -> NoReturn:
        raise PrivateTextError("bytes()")

    def __fspath__(self) -> NoReturn:
        raise PrivateTextError("a file path")

    def __reduce_ex__(self, protocol: object) -> NoReturn:
        raise PrivateTextError("pickle")

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: dict[int, Any]) -> Self:
        return self

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Private):
            return NotImplemented
        return bool(_unwrap(self) == _unwrap(other))

    def __hash__(self) -> int:
        return hash((PLACEHOLDER, _unwrap(self)))

    @classmethod
    def __get_pydantic_core_schema__(
        cls, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Validate as the inner type, then wrap; refuse to serialise to JSON."""
        inner_types = get_args(source)
        inner = handler.generate_schema(inner_types[0]) if inner_types else core_schema.str_schema()
        wrapped = core_schema.no_info_after_validator_function(cls, inner)
        return core_schema.json_or_python_schema(
            json_schema=wrapped,
            python_schema=core_schema.union_schema([core_schema.is_instance_schema(cls), wrapped]),
            serialization=core_schema.plain_serializer_function_ser_schema(_refuse_json, when_used="json"),
        )


def _refuse_json(value: object) -> NoReturn:
    raise PrivateTextError("JSON")


def _unwrap(value: Private[T]) -> T:
    inner: T = object.__getattribute__(value, "_Private__value")
    return inner


def reveal(value: Private[T], *, because: str) -> T:
    """Give the value inside, for the purpose named.

    Args:
        value: the wrapped value.
        because: why it must be seen, in words; an empty reason is refused.

    Raises:
        ValueError: no reason was given.
        TypeError: the value is not private.
    """
    if not because.strip():
        raise ValueError("reveal() needs a reason: say in `because` what the value is needed for")
    if not isinstance(value, Private):
        raise TypeError("reveal() unwraps private values only")
    return _unwrap(value)
