"""A formula as its docstring writes it -> MathML that a browser sets itself: no script, no picture, no style of its own."""

from __future__ import annotations

import ast
import unicodedata
from typing import Final

from markupsafe import Markup, escape

CALLS: Final = {"max": "max", "min": "min", "log": "ln", "exp": "exp", "acos": "arccos"}
AROUND: Final = {"abs": ("<mrow><mo>|</mo>", "<mo>|</mo></mrow>"), "sqrt": ("<msqrt>", "</msqrt>")}
_TIMES, _APPLY = "<mo>·</mo>", "<mo>\u2061</mo>"
_THIN = '<mo lspace="0.08em" rspace="0.08em">\u2062</mo>'
_SUM, _PRODUCT, _POWER, _ATOM = range(4)  # how tightly a part binds: the looser is fenced in the tighter


class NotAFormula(ValueError):
    """A text that is no formula of numbers, symbols, arithmetic and a few operations; a mistake in the program."""


def mathml(text: str) -> Markup:
    """Set one formula, such as `AV = 56.1 * (V - B) * c / m`; NotAFormula for anything else."""
    try:
        tree = ast.parse(text.strip()).body
    except (SyntaxError, ValueError) as error:
        raise NotAFormula(text) from error
    if len(tree) != 1 or not isinstance(tree[0], ast.Assign) or len(tree[0].targets) != 1:
        raise NotAFormula(text)
    inner = f"{_set(tree[0].targets[0])[0]}<mo>=</mo>{_set(tree[0].value)[0]}"
    told = escape(" ".join(text.split()).replace("**", "^").replace("*", "·"))
    return Markup(f'<math display="block" alttext="{told}"><mrow>{inner}</mrow></math>')


def symbol(name: str) -> Markup:
    """Set the letter of a formula for a sentence or a table."""
    return Markup(f"<math>{_name(name)}</math>")


def _set(node: ast.expr) -> tuple[str, int]:
    match node:
        case ast.Name(name):
            return _name(name), _ATOM
        case ast.Constant(value) if type(value) in (int, float):
            return f"<mn>{value!r}</mn>", _ATOM
        case ast.UnaryOp(ast.USub(), inner):
            return f"<mo>−</mo>{_fenced(inner, _PRODUCT)}", _SUM
        case ast.BinOp(left, ast.Add(), right):
            return f"{_set(left)[0]}<mo>+</mo>{_set(right)[0]}", _SUM
        case ast.BinOp(left, ast.Sub(), right):
            return f"{_set(left)[0]}<mo>−</mo>{_fenced(right, _PRODUCT)}", _SUM
        case ast.BinOp(inner, ast.Pow(), ast.Constant(0.5)):
            return f"<msqrt>{_set(inner)[0]}</msqrt>", _ATOM
        case ast.BinOp(left, ast.Pow(), right):
            above, at = f"<mrow>{_set(right)[0]}</mrow>", _fenced(left, _ATOM)
            if at.startswith("<msub>"):
                return f"<msubsup>{at[6:-7]}{above}</msubsup>", _POWER
            return f"<msup><mrow>{at}</mrow>{above}</msup>", _POWER
        case ast.BinOp(_, ast.Mult() | ast.Div(), _):
            above, below = (_product(part) for part in _factors(node))
            return f"<mfrac><mrow>{above}</mrow><mrow>{below}</mrow></mfrac>" if below else above, _PRODUCT
        case ast.Call(ast.Name(name), args, []):
            return _call(name, args)
    raise NotAFormula(ast.dump(node))


def _factors(node: ast.expr) -> tuple[list[ast.expr], list[ast.expr]]:
    """What is multiplied and what it is divided by, along the left side of a chain: `a / b * c` is ac over b."""
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div):
        above, below = _factors(node.left)
        (above if isinstance(node.op, ast.Mult) else below).append(node.right)
        return above, below
    return [node], []


def _product(factors: list[ast.expr]) -> str:
    """Factors side by side, a dot before a number; a sum that others follow is fenced, or they would join it."""
    out = ""
    for place, factor in enumerate(factors, 1):
        first = factor
        while isinstance(first, ast.BinOp) and not isinstance(first.op, ast.Add | ast.Sub):
            first = first.left
        out += (_TIMES if isinstance(first, ast.Constant) else _THIN) if out else ""
        followed = place < len(factors) and isinstance(factor, ast.Call) and ast.unparse(factor.func) == "sum"
        out += _fenced(factor, _ATOM if followed else _PRODUCT) if len(factors) > 1 else _set(factor)[0]
    return out


def _fenced(node: ast.expr, least: int) -> str:
    inner, binds = _set(node)
    return f"<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>" if binds < least else inner


def _call(name: str, args: list[ast.expr]) -> tuple[str, int]:
    inside = "<mo>,</mo>".join(_set(arg)[0] for arg in args)
    if name == "sum" and len(args) == 1:
        names = (part.id for part in ast.walk(args[0]) if isinstance(part, ast.Name))
        index = next((each[-1] for each in names if each[-2:-1] == "_"), "")
        under = f"<munder><mo>∑</mo><mi>{index}</mi></munder>" if index else "<mo>∑</mo>"
        return f"{under}{_fenced(args[0], _PRODUCT)}", _PRODUCT
    if name in AROUND and len(args) == 1:
        return inside.join(AROUND[name]), _ATOM
    if name in CALLS and args:
        return f"<mi>{CALLS[name]}</mi>{_APPLY}<mrow><mo>(</mo>{inside}<mo>)</mo></mrow>", _ATOM
    raise NotAFormula(name)


def _name(name: str) -> str:
    """A letter, a word set upright, or either with what stands behind its first `_` below it."""
    if not name.isidentifier() or not name.strip("_"):
        raise NotAFormula(name)
    stem, *below = (part for part in name.split("_") if part)
    kinds = [(f"<mn>{part}</mn>" if part.isdecimal() else f"<mi>{_letter(part)}</mi>") for part in below]
    letter = f"<mi>{_letter(stem)}</mi>"
    return f"<msub>{letter}<mrow>{'<mo>,</mo>'.join(kinds)}</mrow></msub>" if below else letter


def _letter(name: str) -> str:
    """A Greek letter where the name is one, `rho` or `Delta`; else the name itself."""
    size = {name.lower(): "SMALL", name.capitalize(): "CAPITAL"}.get(name, "NO")
    try:
        return unicodedata.lookup(f"GREEK {size} LETTER {name}")
    except KeyError:
        return str(escape(name))
