"""A printed sum worked out again, by nothing but the text on the page and the functions of a calculator."""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable

_SIGNS = {"−": "-", "×": "*", "÷": "/", "^": "**", "√": "sqrt", "⌈": "ceil(", "⌉": ")"}
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "ln": math.log,
    "log2": math.log2,
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "atan2": lambda y, x: math.degrees(math.atan2(y, x)) % 360,
    "ceil": lambda value: float(math.ceil(value - 1e-9)),
    "abs": abs,
}
_OPERATORS: dict[type, Callable[..., float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.USub: operator.neg,
}
LINE = re.compile(r"^(?P<label>[^:]+): (?P<formula>.*[\d)⌉|]) = (?P<result>−?\d+(?:\.\d+)?)(?: (?P<unit>\S+))?$")


def redo(line: str) -> tuple[float, float, float] | None:
    """(worked out, printed, half a unit of the printed one's last digit); None for a sentence without a sum."""
    found = LINE.match(line.replace("\u00a0", " "))
    if found is None:
        return None
    result = found["result"].replace("−", "-")
    digits = len(result.partition(".")[2])
    return _evaluate(found["formula"]), float(result), 0.5 * 10**-digits


def _evaluate(formula: str) -> float:
    for sign, python in _SIGNS.items():
        formula = formula.replace(sign, python)
    while formula.count("|") > 2:
        formula = _inner(formula)
    formula = re.sub(r"\|([^|]*)\|", r"abs(\1)", formula)
    return _value(ast.parse(formula, mode="eval").body)


def _inner(formula: str) -> str:
    """'|180 − |x − 280||': the innermost pair first."""
    start = [at for at, sign in enumerate(formula) if sign == "|"][1]
    end = formula.index("|", start + 1)
    return f"{formula[:start]}abs({formula[start + 1 : end]}){formula[end + 1 :]}"


def _value(node: ast.expr) -> float:
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return float(node.value)
    if isinstance(node, ast.BinOp):
        return _OPERATORS[type(node.op)](_value(node.left), _value(node.right))
    if isinstance(node, ast.UnaryOp):
        return _OPERATORS[type(node.op)](_value(node.operand))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return _FUNCTIONS[node.func.id](*map(_value, node.args))
    raise ValueError(f"no calculator can do {ast.dump(node)}")
